/** A Fourier transform of one size, with its tables made. */
export interface Fft {
  /** Number of points, a power of two. */
  readonly size: number;
  /** Transforms in place: `real` and `imaginary` have `size` values; forward, unscaled, kernel e^(−2πi·kn/size). */
  readonly forward: (real: Float64Array, imaginary: Float64Array) => void;
}

const swapBits = (index: number, bits: number): number => {
  let left = index;
  let swapped = 0;
  for (let i = 0; i < bits; i += 1) {
    swapped = (swapped << 1) | (left & 1);
    left >>= 1;
  }
  return swapped;
};

/** One pass of butterflies over pairs `half` apart. */
const butterflies = (real: Float64Array, imaginary: Float64Array, half: number, turn: FftTables): void => {
  const size = real.length;
  const stride = size / (2 * half);
  for (let start = 0; start < size; start += 2 * half) {
    for (let k = 0; k < half; k += 1) {
      const c = turn.cosine[k * stride] ?? 0;
      const s = turn.sine[k * stride] ?? 0;
      const a = start + k;
      const b = a + half;
      const br = real[b] ?? 0;
      const bi = imaginary[b] ?? 0;
      const tr = br * c + bi * s;
      const ti = bi * c - br * s;
      const ar = real[a] ?? 0;
      const ai = imaginary[a] ?? 0;
      real[b] = ar - tr;
      imaginary[b] = ai - ti;
      real[a] = ar + tr;
      imaginary[a] = ai + ti;
    }
  }
};

interface FftTables {
  readonly cosine: Float64Array;
  readonly sine: Float64Array;
}

/**
 * Prepares the discrete Fourier transform of one size (radix 2, in place).
 * @param size - number of points, a power of two from 2 to 2²²
 * @throws RangeError when the size is no such power
 */
export const fftOf = (size: number): Fft => {
  const bits = Math.round(Math.log2(size));
  if (2 ** bits !== size || bits < 1 || bits > 22)
    throw new RangeError(`fftOf(${size}): needs a power of two from 2 to 2^22`);
  const angles = Float64Array.from({ length: size / 2 }, (_, k) => (2 * Math.PI * k) / size);
  const tables: FftTables = { cosine: angles.map(Math.cos), sine: angles.map(Math.sin) };
  const swapped = Uint32Array.from({ length: size }, (_, i) => swapBits(i, bits));
  const forward = (real: Float64Array, imaginary: Float64Array): void => {
    if (real.length !== size || imaginary.length !== size)
      throw new RangeError(`forward: ${real.length} and ${imaginary.length} values for an FFT of ${size}`);
    for (let i = 0; i < size; i += 1) {
      const j = swapped[i] ?? 0;
      if (j <= i) continue;
      const r = real[i] ?? 0;
      const m = imaginary[i] ?? 0;
      real[i] = real[j] ?? 0;
      imaginary[i] = imaginary[j] ?? 0;
      real[j] = r;
      imaginary[j] = m;
    }
    for (let half = 1; half < size; half *= 2) butterflies(real, imaginary, half, tables);
  };
  return { size, forward };
};

/** Hann window of `length` points, periodic, so that frames half a window apart add up to 1. */
export const hannWindow = (length: number): Float64Array =>
  Float64Array.from({ length }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / length));
