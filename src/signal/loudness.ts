import { type Decibels, decibels, type Hertz, hertz, type Seconds, seconds } from '../core/index.ts';
import type { Biquad } from './biquad.ts';
import { channelsOf, type Sound } from './buffers.ts';

// Source of everything here: ITU-R BS.1770-4 (2015), annex 1; values as cited by EBU Tech 3341 (2023).

const PUBLISHED_RATE = hertz(48_000);
const STAGE_1: Biquad = {
  b0: 1.53512485958697,
  b1: -2.69169618940638,
  b2: 1.19839281085285,
  a1: -1.69065929318241,
  a2: 0.73248077421585,
};
const STAGE_2: Biquad = { b0: 1, b1: -2, b2: 1, a1: -1.99004745483398, a2: 0.99007225036621 };
/** What a block's mean square in decibels is moved by, so that a full-scale 997 Hz sine reads −3.01. */
const OFFSET = -0.691;
/** A block is four steps of 100 ms: 400 ms, overlapping by 75 %. */
const STEP: Seconds = seconds(0.1);
const STEPS_IN_BLOCK = 4;
const ABSOLUTE_GATE = -70;
const RELATIVE_GATE = -10;

/**
 * The same analogue filter at another rate.
 *
 * The bilinear transform that made the published coefficients is undone (its pole frequency, quality and numerator
 * come out exactly) and made again with the pole frequency kept.
 */
const atRate = (filter: Biquad, rate: Hertz): Biquad => {
  if (rate === PUBLISHED_RATE) return filter;
  const { b0, b1, b2, a1, a2 } = filter;
  const divisor = 4 / (1 - a1 + a2);
  const k = Math.sqrt((1 + a1 + a2) / (1 - a1 + a2));
  const width = ((1 - a2) * divisor) / (2 * k);
  const square = ((b0 - b1 + b2) * divisor) / 4;
  const linear = ((b0 - b2) * divisor) / (2 * k);
  const constant = ((b0 + b1 + b2) * divisor) / (4 * k * k);
  const to = Math.tan((Math.atan(k) * PUBLISHED_RATE) / rate);
  const a0 = 1 + width * to + to * to;
  return {
    b0: (square + linear * to + constant * to * to) / a0,
    b1: (2 * (constant * to * to - square)) / a0,
    b2: (square - linear * to + constant * to * to) / a0,
    a1: (2 * (to * to - 1)) / a0,
    a2: (1 - width * to + to * to) / a0,
  };
};

/** The two stages of the K weighting at a sample rate: head, then low cut. */
export const weightingAt = (rate: Hertz): readonly [Biquad, Biquad] => [
  atRate(STAGE_1, rate),
  atRate(STAGE_2, rate),
];

/** Adds the weighted energy of each 100 ms step of a channel to `sums`. Both stages in one loop, for speed. */
const addSteps = (samples: Float32Array, rate: Hertz, sums: Float64Array): void => {
  const [head, low] = weightingAt(rate);
  let h1 = 0;
  let h2 = 0;
  let l1 = 0;
  let l2 = 0;
  const stepLength = rate * STEP;
  for (let step = 0; step < sums.length; step += 1) {
    const end = Math.round((step + 1) * stepLength);
    let sum = 0;
    for (let i = Math.round(step * stepLength); i < end; i += 1) {
      const x = samples[i] as number;
      const y = head.b0 * x + h1;
      h1 = head.b1 * x - head.a1 * y + h2;
      h2 = head.b2 * x - head.a2 * y;
      const z = low.b0 * y + l1;
      l1 = low.b1 * y - low.a1 * z + l2;
      l2 = low.b2 * y - low.a2 * z;
      sum += z * z;
    }
    sums[step] = (sums[step] ?? 0) + sum / (end - Math.round(step * stepLength));
  }
};

const inDecibels = (meanSquare: number): number => OFFSET + 10 * Math.log10(meanSquare);

/** Mean squares of the 400 ms blocks, one every 100 ms. */
const blocksOf = (sound: Sound): readonly number[] => {
  const channels = channelsOf(sound);
  const steps = Math.floor((channels[0]?.length ?? 0) / (sound.rate * STEP) + 1e-9);
  const sums = new Float64Array(steps);
  for (const channel of channels) addSteps(channel, sound.rate, sums);
  return Array.from({ length: Math.max(0, steps - STEPS_IN_BLOCK + 1) }, (_, i) => {
    let sum = 0;
    for (let k = 0; k < STEPS_IN_BLOCK; k += 1) sum += sums[i + k] ?? 0;
    return sum / STEPS_IN_BLOCK;
  });
};

const meanAbove = (blocks: readonly number[], gate: number): number | null => {
  const kept = blocks.filter((b) => inDecibels(b) > gate);
  return kept.length === 0 ? null : kept.reduce((a, b) => a + b, 0) / kept.length;
};

/**
 * How loud is a whole recording? Integrated loudness with both gates; mono counts as one channel.
 * @returns LUFS; −Infinity where nothing passes the −70 LUFS gate, so also for less than 400 ms
 * @see Source: ITU-R BS.1770-4, annex 1
 */
export const loudnessOf = (sound: Sound): Decibels => {
  const blocks = blocksOf(sound);
  const ungated = meanAbove(blocks, ABSOLUTE_GATE);
  if (ungated === null) return decibels(Number.NEGATIVE_INFINITY);
  const gate = Math.max(ABSOLUTE_GATE, inDecibels(ungated) + RELATIVE_GATE);
  const gated = meanAbove(blocks, gate) ?? ungated;
  return decibels(inDecibels(gated));
};
