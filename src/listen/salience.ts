import {
  FRAME_RATE,
  LISTENING_RATE,
  LOWEST_MIDI,
  PITCH_FRAME,
  SEMITONES,
  STEPS_PER_SEMITONE,
} from './data.ts';
import { frameCount, spectraOf } from './spectra.ts';
import { steadySound } from './steadySound.ts';

/** How strongly each semitone sounds in each frame. */
export interface Salience {
  readonly frames: number;
  /** frames × SEMITONES; 1 is about as strong as the tune's own notes. */
  readonly strength: Float32Array;
  /** frames × SEMITONES: where in the semitone it sounds, in hundredths of a semitone from its middle. */
  readonly cents: Int8Array;
}

/** Harmonics that are summed. */
const HARMONICS = 10;
/** Each harmonic counts so much of the one below it. */
const HARMONIC_WEIGHT = 0.86;
/** What sounds halfway between harmonics speaks against a pitch, so strongly. */
const BETWEEN_WEIGHT = 0.32;
const HIGHEST_HARMONIC = 5_000;

const BINS = PITCH_FRAME.points / 2;

/**
 * How much of the power of what sounds all the time is taken away: more than there is, because a note on a drone's own pitch
 * beats with it. Ours: of 1.5, 3, 6 and 12 those between the first two kept most notes under drones, in the tuning half.
 */
const STEADY_TAKEN = 2.5;

/**
 * Loudness without what sounds all the time, on a scale between amplitude and logarithm: strong partials don't drown the
 * others.
 * @param steady - power of what sounds all the time
 */
const pressed = (magnitudes: Float32Array, steady: Float32Array): void => {
  for (let k = 0; k < BINS; k += 1) {
    const left = (magnitudes[k] as number) ** 2 - STEADY_TAKEN * (steady[k] as number);
    magnitudes[k] = left > 0 ? Math.sqrt(Math.sqrt(left)) : 0;
  }
};

interface Reading {
  /** Where each harmonic and each place between is read: bin and blend, and how much it counts. */
  readonly bin: Uint16Array;
  readonly blend: Float32Array;
  readonly weight: Float32Array;
  /** First place of each pitch step; one more at the end. */
  readonly from: Uint32Array;
}

const readingAt = (offsetCents: number): Reading => {
  const [bins, blends, weights, from]: [number[], number[], number[], number[]] = [[], [], [], []];
  for (let step = 0; step < SEMITONES * STEPS_PER_SEMITONE; step += 1) {
    from.push(bins.length);
    const middle = (STEPS_PER_SEMITONE - 1) / 2;
    const midi =
      LOWEST_MIDI +
      Math.floor(step / STEPS_PER_SEMITONE) +
      ((step % STEPS_PER_SEMITONE) - middle) / STEPS_PER_SEMITONE;
    const f = 440 * 2 ** ((midi - 69 + offsetCents / 100) / 12);
    const total = Array.from({ length: HARMONICS }, (_, h) => HARMONIC_WEIGHT ** h).reduce((a, b) => a + b);
    for (let h = 1; h <= HARMONICS && h * f < HIGHEST_HARMONIC; h += 1) {
      const weight = HARMONIC_WEIGHT ** (h - 1) / total;
      for (const [factor, sign] of [
        [h, 1],
        [h - 0.5, -BETWEEN_WEIGHT],
      ] as const) {
        const place = (factor * f * PITCH_FRAME.points) / LISTENING_RATE;
        bins.push(Math.floor(place));
        blends.push(place - Math.floor(place));
        weights.push(sign * weight);
      }
    }
  }
  from.push(bins.length);
  return {
    bin: Uint16Array.from(bins),
    blend: Float32Array.from(blends),
    weight: Float32Array.from(weights),
    from: Uint32Array.from(from),
  };
};

/** The salience of each pitch step in one frame. */
const summed = (pressedBins: Float32Array, reading: Reading, into: Float32Array): void => {
  const { bin, blend, weight, from } = reading;
  for (let step = 0; step < into.length; step += 1) {
    const last = from[step + 1] as number;
    let sum = 0;
    for (let j = from[step] as number; j < last; j += 1) {
      const k = bin[j] as number;
      const a = pressedBins[k] as number;
      sum += (weight[j] as number) * (a + (blend[j] as number) * ((pressedBins[k + 1] as number) - a));
    }
    into[step] = sum;
  }
};

/** The best step of each semitone, with the vertex of the parabola through it and its neighbours as its pitch. */
const bestSteps = (
  steps: Float32Array,
  t: number,
  into: { strength: Float32Array; cents: Int8Array },
): void => {
  for (let s = 0; s < SEMITONES; s += 1) {
    let best = s * STEPS_PER_SEMITONE;
    for (let i = 1; i < STEPS_PER_SEMITONE; i += 1)
      if ((steps[s * STEPS_PER_SEMITONE + i] as number) > (steps[best] as number))
        best = s * STEPS_PER_SEMITONE + i;
    const y = steps[best] as number;
    const [left, right] = [steps[best - 1] ?? y, steps[best + 1] ?? y];
    const curve = left - 2 * y + right;
    const shift = curve < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (left - right)) / curve)) : 0;
    into.strength[t * SEMITONES + s] = Math.max(0, y);
    const step = best - s * STEPS_PER_SEMITONE - (STEPS_PER_SEMITONE - 1) / 2;
    into.cents[t * SEMITONES + s] = Math.round((100 * (step + shift)) / STEPS_PER_SEMITONE);
  }
};

/** An octave above counts so much against a pitch: the tune is the upper of two octaves played together. */
const OCTAVE_ABOVE = 0.4;
const OCTAVE = 12;

/** Takes from each semitone a share of its upper octave. */
const upperOctaveFirst = (strength: Float32Array, t: number): void => {
  const from = t * SEMITONES;
  for (let s = 0; s + OCTAVE < SEMITONES; s += 1) {
    const upper = strength[from + s + OCTAVE] as number;
    strength[from + s] = Math.max(0, (strength[from + s] as number) - OCTAVE_ABOVE * upper);
  }
};

/** Loudness against which strengths are told: that of the music over some seconds. */
const LEVEL_SECONDS = 6;
const LEVEL_SHARE = 0.75;

/** Divides each frame's strengths by those of the music around it. */
const levelled = (strength: Float32Array, frames: number): void => {
  const peaks = Float32Array.from({ length: frames }, (_, t) => {
    let most = 0;
    for (let s = 0; s < SEMITONES; s += 1) most = Math.max(most, strength[t * SEMITONES + s] as number);
    return most;
  });
  const everywhere = Float32Array.from(peaks).sort()[Math.floor(0.75 * frames)] ?? 0;
  const block = Math.round((LEVEL_SECONDS * FRAME_RATE) / 2);
  const levels: number[] = [];
  for (let from = 0; from < frames + block; from += block) {
    const near = peaks.slice(Math.max(0, from - block), from + block).sort();
    levels.push(Math.max(near[Math.floor(LEVEL_SHARE * near.length)] ?? 0, 0.25 * everywhere, 1e-6));
  }
  for (let t = 0; t < frames; t += 1) {
    const at = Math.floor(t / block);
    const blend = t / block - at;
    const level = (levels[at] ?? 1) * (1 - blend) + (levels[at + 1] ?? levels[at] ?? 1) * blend;
    for (let s = 0; s < SEMITONES; s += 1) {
      const k = t * SEMITONES + s;
      strength[k] = (strength[k] as number) / level;
    }
  }
};

/**
 * How strongly does each semitone sound, moment by moment?
 *
 * A pitch's strength is the weighted sum of its harmonics, less what sounds halfway between them; what sounds all the
 * time (drones, hum, hiss) has been taken away before.
 * @param samples - mono, at `LISTENING_RATE`
 * @param offsetCents - how far the recording's semitones lie from A = 440 Hz
 */
export const salienceOf = (samples: Float32Array, offsetCents: number): Salience => {
  const frames = frameCount(samples, PITCH_FRAME.hop);
  const spectra = spectraOf(samples, PITCH_FRAME);
  const steady = steadySound(samples, PITCH_FRAME);
  const reading = readingAt(offsetCents);
  const found = {
    frames,
    strength: new Float32Array(frames * SEMITONES),
    cents: new Int8Array(frames * SEMITONES),
  };
  const pair = [new Float32Array(BINS), new Float32Array(BINS)] as const;
  const steps = new Float32Array(SEMITONES * STEPS_PER_SEMITONE);
  for (let t = 0; t < frames; t += 2) {
    spectra(t, pair[0], pair[1]);
    for (const [i, bins] of pair.entries()) {
      if (t + i >= frames) break;
      pressed(bins, steady(t + i));
      summed(bins, reading, steps);
      bestSteps(steps, t + i, found);
      upperOctaveFirst(found.strength, t + i);
    }
  }
  levelled(found.strength, frames);
  return found;
};
