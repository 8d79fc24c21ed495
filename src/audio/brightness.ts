import { type Decibels, decibels, type Hertz, hertz } from '../core/index.ts';
import { filtered, gainOf, highPass, highShelf, levelOf, loudnessOf, rmsOf } from '../signal/index.ts';

/** What lies above this makes a tone bright, hertz. Ours: over the fundamentals of every key. */
const SPLIT = hertz(3000);
/** Where it is mended: lower, so that all above the split is moved alike, hertz. Ours. */
const SHELF = hertz(2000);
/** It is measured in this stretch of a tone, seconds. */
const MEASURED = { from: 0.05, to: 0.55 } as const;
/**
 * How bright each key should be: what lies above the split against all of it, dB, on a line that rises with the key.
 * Ours: fitted to the bank's own keys, whose neighbouring samples lie up to 3.5 dB apart.
 */
const WANTED = { key: 69, level: -15.4, eachSemitone: 0.45 } as const;

/** How much of a tone lies above the split, against all of it. */
const brightnessOf = (tone: Float32Array, rate: Hertz): Decibels => {
  const stretch = tone.subarray(Math.round(MEASURED.from * rate), Math.round(MEASURED.to * rate));
  const above = highPass(SPLIT, rate);
  return levelOf(rmsOf(filtered(stretch, [above, above])) / Math.max(1e-9, rmsOf(stretch)));
};

const loudnessIn = (tone: Float32Array, rate: Hertz): Decibels =>
  loudnessOf({
    rate,
    samples: tone.subarray(Math.round(MEASURED.from * rate), Math.round(MEASURED.to * rate)),
  });

/** A shelf moves less than it is told to, because its slope is gentle: so often it is told again. Ours. */
const ROUNDS = 3;

/**
 * A fiddle's tone made as bright as its neighbours, so that a run does not change its colour where the samples change.
 * @param midi - its key
 */
export const evenlyBright = (tone: Float32Array, midi: number, rate: Hertz): Float32Array => {
  const wanted = WANTED.level + WANTED.eachSemitone * (midi - WANTED.key);
  let even = tone;
  for (let round = 0; round < ROUNDS; round += 1) {
    const change = wanted - brightnessOf(even, rate);
    if (!Number.isFinite(change)) return tone;
    even = filtered(even, [highShelf(SHELF, rate, decibels(change))]);
  }
  // Highs count for more in loudness: the tone is made as loud as it was.
  const gain = gainOf(decibels(loudnessIn(tone, rate) - loudnessIn(even, rate)));
  return even.map((x) => x * gain);
};
