import type { Decibels, Hertz } from '../core/index.ts';

/**
 * A second-order filter, a0 = 1: y = b0·x + b1·x₁ + b2·x₂ − a1·y₁ − a2·y₂.
 * @see Source of the designs below: R. Bristow-Johnson, "Cookbook formulae for audio EQ biquad filter coefficients"
 */
export interface Biquad {
  readonly b0: number;
  readonly b1: number;
  readonly b2: number;
  readonly a1: number;
  readonly a2: number;
}

/** Half-power (Butterworth) quality of a second-order filter. */
const BUTTERWORTH = Math.SQRT1_2;

const normalised = (b: readonly [number, number, number], a: readonly [number, number, number]): Biquad => ({
  b0: b[0] / a[0],
  b1: b[1] / a[0],
  b2: b[2] / a[0],
  a1: a[1] / a[0],
  a2: a[2] / a[0],
});

const angleOf = (frequency: Hertz, rate: Hertz): number => {
  if (!(frequency > 0 && frequency < rate / 2))
    throw new RangeError(`filter at ${frequency} Hz: must lie between 0 and half of ${rate} Hz`);
  return (2 * Math.PI * frequency) / rate;
};

/** Lets low frequencies through, 12 dB an octave above `corner`. @throws RangeError when corner isn't below rate/2 */
export const lowPass = (corner: Hertz, rate: Hertz, quality = BUTTERWORTH): Biquad => {
  const w = angleOf(corner, rate);
  const c = Math.cos(w);
  const alpha = Math.sin(w) / (2 * quality);
  return normalised([(1 - c) / 2, 1 - c, (1 - c) / 2], [1 + alpha, -2 * c, 1 - alpha]);
};

/** Lets high frequencies through, 12 dB an octave below `corner`. @throws RangeError when corner isn't below rate/2 */
export const highPass = (corner: Hertz, rate: Hertz, quality = BUTTERWORTH): Biquad => {
  const w = angleOf(corner, rate);
  const c = Math.cos(w);
  const alpha = Math.sin(w) / (2 * quality);
  return normalised([(1 + c) / 2, -1 - c, (1 + c) / 2], [1 + alpha, -2 * c, 1 - alpha]);
};

/** Lets a band through, 0 dB at its centre, `quality` = centre ÷ width. @throws RangeError as `lowPass` does */
export const bandPass = (centre: Hertz, rate: Hertz, quality: number): Biquad => {
  const w = angleOf(centre, rate);
  const alpha = Math.sin(w) / (2 * quality);
  return normalised([alpha, 0, -alpha], [1 + alpha, -2 * Math.cos(w), 1 - alpha]);
};

/** Raises (or lowers) everything well above `corner` by `change`. @throws RangeError as `lowPass` does */
export const highShelf = (corner: Hertz, rate: Hertz, change: Decibels): Biquad => {
  const w = angleOf(corner, rate);
  const a = 10 ** (change / 40);
  const c = Math.cos(w);
  const slope = 2 * Math.sqrt(a) * (Math.sin(w) / (2 * BUTTERWORTH));
  return normalised(
    [a * (a + 1 + (a - 1) * c + slope), -2 * a * (a - 1 + (a + 1) * c), a * (a + 1 + (a - 1) * c - slope)],
    [a + 1 - (a - 1) * c + slope, 2 * (a - 1 - (a + 1) * c), a + 1 - (a - 1) * c - slope],
  );
};

/** The samples through the filters one after the other, starting from silence. */
export const filtered = (samples: Float32Array, filters: readonly Biquad[]): Float32Array => {
  const out = Float32Array.from(samples);
  for (const { b0, b1, b2, a1, a2 } of filters) {
    let first = 0;
    let second = 0;
    for (let i = 0; i < out.length; i += 1) {
      const x = out[i] ?? 0;
      const y = b0 * x + first;
      first = b1 * x - a1 * y + second;
      second = b2 * x - a2 * y;
      out[i] = y;
    }
  }
  return out;
};
