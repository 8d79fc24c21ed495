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
const runPeaks = (samples: Float32Array): Float32Array => {
  const peaks = new Float32Array(Math.ceil(samples.length / REACH));
  for (let run = 0; run < peaks.length; run += 1) {
    const to = Math.min(samples.length, (run + 1) * REACH);
    let peak = 0;
    for (let i = run * REACH; i < to; i += 1) peak = Math.max(peak, Math.abs(samples[i] as number));
    peaks[run] = peak;
  }
  return peaks;
};

/** The filters' taps, those of one place together. */
const TAPS = Float64Array.from({ length: 2 * REACH * FILTERS.length }, (_, i) => {
  const filter = FILTERS[i % FILTERS.length];
  return filter?.[Math.floor(i / FILTERS.length)] ?? 0;
});

/** Largest value at or just after sample `at` of a stretch with `REACH` samples on either side, in quarters of a sample. */
const peakAfter = (samples: Float32Array, at: number): number => {
  let first = 0;
  let half = 0;
  let last = 0;
  const from = at - REACH + 1;
  for (let tap = 0, i = 0; tap < 2 * REACH; tap += 1, i += 3) {
    const x = samples[from + tap] as number;
    first += (TAPS[i] as number) * x;
    half += (TAPS[i + 1] as number) * x;
    last += (TAPS[i + 2] as number) * x;
  }
  return Math.max(Math.abs(samples[at] as number), Math.abs(first), Math.abs(half), Math.abs(last));
};

/** The true peak of the run of samples from `from` to `to`. */
const runPeak = (samples: Float32Array, from: number, to: number, room: Float32Array): number => {
  const inside = from >= REACH && to + REACH <= samples.length;
  if (!inside) {
    room.fill(0);
    const first = Math.max(0, from - REACH);
    room.set(samples.subarray(first, Math.min(samples.length, to + REACH)), first - (from - REACH));
  }
  const [read, start] = inside ? [samples, from] : [room, REACH];
  let peak = 0;
  for (let i = start; i < start + to - from; i += 1) peak = Math.max(peak, peakAfter(read, i));
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
  const room = new Float32Array(3 * REACH);
  for (let run = within.from / REACH; run * REACH < within.to; run += 1) {
    const near = Math.max(peaks[run - 1] ?? 0, peaks[run] ?? 0, peaks[run + 1] ?? 0);
    if (near * BOUND <= floor()) continue;
    const from = run * REACH;
    const to = Math.min(within.to, from + REACH);
    const peak = runPeak(samples, from, to, room);
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
