import type { Hertz } from '../core/index.ts';

/** Taps on each side of the point that is read. Ours: images stay below −90 dB over the band that is kept. */
const HALF_TAPS = 16;
const TAPS = 2 * HALF_TAPS;
/** Steps between two samples at which the kernel is tabled; between them it is interpolated linearly. */
const PHASES = 512;
/** Shape of the Kaiser window: about −90 dB side lobes. Source: J. F. Kaiser's formula, β = 0.1102·(A − 8.7). */
const KAISER_BETA = 9;
/** Share of the band up to half the lower rate that is kept flat; the rest is the slope. Ours. */
const KEPT_BAND = 0.93;

/** Modified Bessel function of the first kind, order 0, by its power series. */
const besselI0 = (x: number): number => {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-12 * sum; k += 1) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
};

/** The kernel at PHASES + 1 fractions of a sample, TAPS values each; each fraction sums to 1. */
const kernelFor = (cutoff: number): Float64Array => {
  const table = new Float64Array((PHASES + 1) * TAPS);
  const edge = besselI0(KAISER_BETA);
  for (let phase = 0; phase <= PHASES; phase += 1) {
    let sum = 0;
    for (let tap = 0; tap < TAPS; tap += 1) {
      const x = tap - HALF_TAPS + 1 - phase / PHASES;
      const inside = Math.max(0, 1 - (x / HALF_TAPS) ** 2);
      const angle = Math.PI * cutoff * x;
      const sinc = x === 0 ? 1 : Math.sin(angle) / angle;
      const value = (sinc * besselI0(KAISER_BETA * Math.sqrt(inside))) / edge;
      table[phase * TAPS + tap] = value;
      sum += value;
    }
    for (let tap = 0; tap < TAPS; tap += 1) {
      const at = phase * TAPS + tap;
      table[at] = (table[at] ?? 0) / sum;
    }
  }
  return table;
};

const kernels = new Map<number, Float64Array>();
/** Kernels depend on the cutoff alone, rounded down to 1/64, and are kept: a pitch set needs a dozen of them. */
const kernelOf = (step: number): Float64Array => {
  const cutoff = Math.floor(Math.min(1, 1 / step) * KEPT_BAND * 64) / 64;
  const known = kernels.get(cutoff);
  if (known !== undefined) return known;
  const made = kernelFor(Math.max(cutoff, 1 / 64));
  kernels.set(cutoff, made);
  return made;
};

/**
 * Reads samples at evenly spaced points between them: the same sound faster or slower, band-limited.
 * @param samples - samples outside count as 0
 * @param read - `from`: first point, in samples, fractions allowed; `step`: distance of the points, above 0;
 * `count`: how many points
 * @returns one value a point
 * @throws RangeError when the step isn't above 0
 */
export const readEvenly = (
  samples: Float32Array,
  read: { readonly from: number; readonly step: number; readonly count: number },
): Float32Array => {
  const { from, step, count } = read;
  if (!(step > 0)) throw new RangeError(`readEvenly: step ${step} must be above 0`);
  const kernel = kernelOf(step);
  const out = new Float32Array(count);
  const length = samples.length;
  for (let i = 0; i < count; i += 1) {
    const point = from + i * step;
    const whole = Math.floor(point);
    const phase = (point - whole) * PHASES;
    const row = Math.floor(phase);
    const blend = phase - row;
    const first = whole - HALF_TAPS + 1;
    const low = Math.max(0, -first);
    const high = Math.min(TAPS, length - first);
    let a = 0;
    let b = 0;
    const at = row * TAPS;
    for (let tap = low; tap < high; tap += 1) {
      const x = samples[first + tap] as number;
      a += x * (kernel[at + tap] as number);
      b += x * (kernel[at + TAPS + tap] as number);
    }
    out[i] = a + blend * (b - a);
  }
  return out;
};

/** The same sound at another sample rate. */
export const resampled = (samples: Float32Array, from: Hertz, to: Hertz): Float32Array =>
  from === to
    ? Float32Array.from(samples)
    : readEvenly(samples, { from: 0, step: from / to, count: Math.round((samples.length * to) / from) });

/** A sound at another sample rate, block by block: so that nobody need hold the whole of it at its own rate. */
export interface Resampling {
  /** Takes the next samples in. @returns those that can be told by now */
  readonly take: (samples: Float32Array) => Float32Array;
  /** @returns those that were still to come */
  readonly end: () => Float32Array;
}

/** Resamples a sound that comes in blocks; all that is given back is what `resampled` makes of the whole, but for −90 dB. */
export const resamplingOf = (from: Hertz, to: Hertz): Resampling => {
  const step = from / to;
  let [waiting, first, taken, made] = [new Float32Array(0), 0, 0, 0];
  const told = (count: number): Float32Array => {
    if (count <= 0) return new Float32Array(0);
    const out = readEvenly(waiting, { from: made * step - first, step, count });
    made += count;
    const needed = Math.max(0, Math.floor(made * step) - HALF_TAPS - first);
    waiting = waiting.slice(needed);
    first += needed;
    return out;
  };
  return {
    take: (samples) => {
      const all = new Float32Array(waiting.length + samples.length);
      all.set(waiting);
      all.set(samples, waiting.length);
      waiting = all;
      taken += samples.length;
      // The last point whose taps are all there.
      return told(Math.floor((taken - HALF_TAPS - 1) / step) + 1 - made);
    },
    end: () => told(Math.round(taken / step) - made),
  };
};
