import { fftOf, hannWindow } from '../signal/index.ts';

/** How frames of sound are turned into spectra. */
export interface FrameShape {
  /** Samples under the Hann window. */
  readonly window: number;
  /** Points of the transform, a power of two from `window` up: more points only lie closer. */
  readonly points: number;
  /** Samples from one frame's centre to the next. */
  readonly hop: number;
}

/** How many frames a sound has: their centres lie at 0, hop, 2·hop … to its end. */
export const frameCount = (samples: Float32Array, hop: number): number =>
  Math.floor(samples.length / hop) + 1;

/**
 * The magnitudes of a sound's frames, two at a time: two real frames share one complex transform.
 *
 * A sine of amplitude 1 has magnitude 1 at its peak.
 * @returns a function that writes the magnitudes of frames `first` and `first + 1` (points / 2 values each)
 */
export const spectraOf = (
  samples: Float32Array,
  shape: FrameShape,
): ((first: number, a: Float32Array, b: Float32Array) => void) => {
  const { window, points, hop } = shape;
  const fft = fftOf(points);
  const hann = hannWindow(window);
  const scale = 2 / hann.reduce((sum, w) => sum + w, 0);
  const [real, imaginary] = [new Float64Array(points), new Float64Array(points)];
  const lay = (into: Float64Array, centre: number): void => {
    into.fill(0);
    const from = centre - (window >> 1);
    const low = Math.max(0, -from);
    const high = Math.min(window, samples.length - from);
    for (let i = low; i < high; i += 1) into[i] = (hann[i] as number) * (samples[from + i] as number);
  };
  return (first, a, b) => {
    lay(real, first * hop);
    lay(imaginary, (first + 1) * hop);
    fft.forward(real, imaginary);
    a[0] = 0;
    b[0] = 0;
    for (let k = 1; k < points / 2; k += 1) {
      const r = real[k] as number;
      const i = imaginary[k] as number;
      const r2 = real[points - k] as number;
      const i2 = imaginary[points - k] as number;
      a[k] = 0.5 * scale * Math.sqrt((r + r2) * (r + r2) + (i - i2) * (i - i2));
      b[k] = 0.5 * scale * Math.sqrt((i + i2) * (i + i2) + (r2 - r) * (r2 - r));
    }
  };
};
