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

/** Takes a channel's samples in order, stretch after stretch. */
type Feed = (samples: Float32Array) => void;

/** Adds the weighted energy of each 100 ms step of a channel to `sums`. Both stages in one loop, for speed. */
const stepsInto = (sums: Float64Array, rate: Hertz): Feed => {
  const [head, low] = weightingAt(rate);
  const stepLength = rate * STEP;
  const state = { h1: 0, h2: 0, l1: 0, l2: 0, step: 0, at: 0, sum: 0 };
  return (samples) => {
    let { h1, h2, l1, l2, step, at, sum } = state;
    for (let i = 0; i < samples.length && step < sums.length; ) {
      const start = Math.round(step * stepLength);
      const end = Math.round((step + 1) * stepLength);
      const stop = Math.min(samples.length, i + end - at);
      at += stop - i;
      for (; i < stop; i += 1) {
        const x = samples[i] as number;
        const y = head.b0 * x + h1;
        h1 = head.b1 * x - head.a1 * y + h2;
        h2 = head.b2 * x - head.a2 * y;
        const z = low.b0 * y + l1;
        l1 = low.b1 * y - low.a1 * z + l2;
        l2 = low.b2 * y - low.a2 * z;
        sum += z * z;
      }
      if (at < end) break;
      sums[step] = (sums[step] ?? 0) + sum / (end - start);
      sum = 0;
      step += 1;
    }
    Object.assign(state, { h1, h2, l1, l2, step, at, sum });
  };
};

const inDecibels = (meanSquare: number): number => OFFSET + 10 * Math.log10(meanSquare);

/** Mean squares of the 400 ms blocks, one every 100 ms. */
const blocksOf = (sums: Float64Array): readonly number[] =>
  Array.from({ length: Math.max(0, sums.length - STEPS_IN_BLOCK + 1) }, (_, i) => {
    let sum = 0;
    for (let k = 0; k < STEPS_IN_BLOCK; k += 1) sum += sums[i + k] ?? 0;
    return sum / STEPS_IN_BLOCK;
  });

const meanAbove = (blocks: readonly number[], gate: number): number | null => {
  const kept = blocks.filter((b) => inDecibels(b) > gate);
  return kept.length === 0 ? null : kept.reduce((a, b) => a + b, 0) / kept.length;
};

/** Measures the loudness of a recording that is never there as a whole. */
export interface LoudnessMeter {
  /** A feed for one more channel. */
  readonly channel: () => Feed;
  /** LUFS of all that was fed, as `loudnessOf` gives it. */
  readonly loudness: () => Decibels;
}

/** A meter for channels of so many samples. */
export const loudnessMeter = (frames: number, rate: Hertz): LoudnessMeter => {
  const sums = new Float64Array(Math.floor(frames / (rate * STEP) + 1e-9));
  const loudness = (): Decibels => {
    const blocks = blocksOf(sums);
    const ungated = meanAbove(blocks, ABSOLUTE_GATE);
    if (ungated === null) return decibels(Number.NEGATIVE_INFINITY);
    const gate = Math.max(ABSOLUTE_GATE, inDecibels(ungated) + RELATIVE_GATE);
    const gated = meanAbove(blocks, gate) ?? ungated;
    return decibels(inDecibels(gated));
  };
  return { channel: () => stepsInto(sums, rate), loudness };
};

/**
 * How loud is a whole recording? Integrated loudness with both gates; mono counts as one channel.
 * @returns LUFS; −Infinity where nothing passes the −70 LUFS gate, so also for less than 400 ms
 * @see Source: ITU-R BS.1770-4, annex 1
 */
export const loudnessOf = (sound: Sound): Decibels => {
  const channels = channelsOf(sound);
  const meter = loudnessMeter(channels[0]?.length ?? 0, sound.rate);
  for (const channel of channels) meter.channel()(channel);
  return meter.loudness();
};
