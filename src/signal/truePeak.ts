import { type Decibels, decibels } from '../core/index.ts';
import { channelsOf, levelOf, type Sound } from './buffers.ts';

/** Points between two samples are read at quarters, as ITU-R BS.1770-4 annex 2 asks at 44.1 and 48 kHz. */
const QUARTERS = 4;
/** Samples on each side. Ours: more than the standard's 12 taps in all, so that less is missed. */
const REACH = 8;

const sincTaps = (fraction: number): Float64Array =>
  Float64Array.from({ length: 2 * REACH }, (_, tap) => {
    const x = tap - REACH + 1 - fraction;
    const window = Math.cos((Math.PI * x) / (2 * (REACH + 0.5))) ** 2;
    return x === 0 ? 1 : (window * Math.sin(Math.PI * x)) / (Math.PI * x);
  });
const FILTERS = Array.from({ length: QUARTERS - 1 }, (_, q) => sincTaps((q + 1) / QUARTERS));
/** No value between samples exceeds the largest sample near it by more than this factor. */
const BOUND = Math.max(...FILTERS.map((f) => f.reduce((sum, tap) => sum + Math.abs(tap), 0)));

/** Largest sample of each run of `REACH` samples. */
const runPeaks = (samples: Float32Array): Float64Array => {
  const peaks = new Float64Array(Math.ceil(samples.length / REACH));
  for (let i = 0; i < samples.length; i += 1) {
    const size = Math.abs(samples[i] as number);
    const run = Math.floor(i / REACH);
    if (size > (peaks[run] as number)) peaks[run] = size;
  }
  return peaks;
};

/** Largest value at or just after sample `at`, in quarters of a sample. */
const peakAfter = (samples: Float32Array, at: number): number => {
  let peak = Math.abs(samples[at] ?? 0);
  for (const taps of FILTERS) {
    let sum = 0;
    for (let tap = 0; tap < taps.length; tap += 1)
      sum += (taps[tap] as number) * (samples[at + tap - REACH + 1] ?? 0);
    peak = Math.max(peak, Math.abs(sum));
  }
  return peak;
};

/**
 * Visits every run of eight samples whose true peak can exceed `floor`, and tells its true peak.
 *
 * Runs that can't exceed it by the filter's bound are left out, which is exact and leaves out nearly all of them.
 * @param within - whole runs that are visited, as samples: what stands around them is only looked at; default all
 */
export const visitPeaks = (
  samples: Float32Array,
  floor: () => number,
  visit: (from: number, peak: number) => void,
  within: { readonly from: number; readonly to: number } = { from: 0, to: samples.length },
): void => {
  const peaks = runPeaks(samples);
  for (let run = within.from / REACH; run * REACH < within.to; run += 1) {
    const near = Math.max(peaks[run - 1] ?? 0, peaks[run] ?? 0, peaks[run + 1] ?? 0);
    if (near * BOUND <= floor()) continue;
    const from = run * REACH;
    const to = Math.min(within.to, from + REACH);
    let peak = 0;
    for (let i = from; i < to; i += 1) peak = Math.max(peak, peakAfter(samples, i));
    if (peak > floor()) visit(from, peak);
  }
};

/** Samples in a run of `visitPeaks`. */
export const PEAK_RUN = REACH;

/**
 * How high does the sound rise between its samples?
 * @returns dBTP; −Infinity for silence
 * @see Source: ITU-R BS.1770-4, annex 2 (method); the interpolation filter is ours
 */
export const truePeakOf = (sound: Sound): Decibels => {
  let highest = 0;
  for (const channel of channelsOf(sound)) {
    visitPeaks(
      channel,
      () => highest,
      (_, peak) => {
        highest = peak;
      },
    );
  }
  return highest === 0 ? decibels(Number.NEGATIVE_INFINITY) : levelOf(highest);
};
