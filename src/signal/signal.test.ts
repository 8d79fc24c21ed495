import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decibels, hertz } from '../core/index.ts';
import { bandPass, filtered, highPass, highShelf, lowPass } from './biquad.ts';
import { gainOf, levelOf, reusedSilence, rmsOf } from './buffers.ts';
import { fftOf, hannWindow } from './fft.ts';
import { readEvenly, resampled, resamplingOf } from './resample.ts';

const RATE = hertz(44_100);
const sine = (frequency: number, length: number, rate: number = RATE) =>
  Float32Array.from({ length }, (_, i) => Math.sin((2 * Math.PI * frequency * i) / rate));

describe('Fourier transform', () => {
  const slow = (real: Float64Array) =>
    Array.from(real, (_, k) => {
      let re = 0;
      let im = 0;
      real.forEach((x, n) => {
        re += x * Math.cos((2 * Math.PI * k * n) / real.length);
        im -= x * Math.sin((2 * Math.PI * k * n) / real.length);
      });
      return [re, im] as const;
    });
  test('equals the sum it stands for', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 32, maxLength: 32 }),
        (xs) => {
          const real = Float64Array.from(xs);
          const imaginary = new Float64Array(32);
          const expected = slow(real);
          fftOf(32).forward(real, imaginary);
          expected.forEach(([re, im], k) => {
            expect(real[k]).toBeCloseTo(re, 9);
            expect(imaginary[k]).toBeCloseTo(im, 9);
          });
        },
      ),
      { seed: 7, numRuns: 30 },
    );
  });
  test('a sine on a bin reads its amplitude', () => {
    const x = sine((40 * RATE) / 1024, 1024);
    const real = hannWindow(1024).map((w, i) => w * (x[i] ?? 0));
    const imaginary = new Float64Array(1024);
    fftOf(1024).forward(real, imaginary);
    // A Hann window's mean is 1/2, and half of a real sine is at the negative frequency.
    const amplitude = (bin: number) => (4 / 1024) * Math.hypot(real[bin] ?? 0, imaginary[bin] ?? 0);
    expect(amplitude(40)).toBeCloseTo(1, 6);
    expect(amplitude(60)).toBeLessThan(1e-6);
  });
  test.each([0, 1, 3, 1000])('a size of %i is refused', (size) => {
    expect(() => fftOf(size)).toThrow(RangeError);
  });
});

describe('reading between samples', () => {
  test.each([
    { from: 32_000, to: 44_100, hz: 9000 },
    { from: 44_100, to: 48_000, hz: 15_000 },
    { from: 44_100, to: 22_050, hz: 5000 },
    { from: 22_050, to: 44_100, hz: 440 },
  ])('$hz Hz from $from to $to: error below −80 dB', ({ from, to, hz }) => {
    const there = resampled(sine(hz, from / 4, from), hertz(from), hertz(to));
    const ideal = sine(hz, there.length, to);
    const error = there.map((x, i) => x - (ideal[i] ?? 0));
    expect(levelOf(rmsOf(error, 400, error.length - 400))).toBeLessThan(-80);
  });
  test('what would fold down is taken away', () => {
    const there = resampled(sine(18_000, 22_050), RATE, hertz(22_050));
    expect(levelOf(rmsOf(there, 400, there.length - 400))).toBeLessThan(-70);
  });
  test('points on samples are the samples', () => {
    const x = sine(1000, 300);
    const read = readEvenly(x, { from: 50, step: 1, count: 100 });
    for (const [i, y] of read.entries()) expect(Math.abs(y - (x[50 + i] ?? 0))).toBeLessThan(1e-3);
  });
  test('a step of 0 is refused', () => {
    expect(() => readEvenly(new Float32Array(4), { from: 0, step: 0, count: 1 })).toThrow(RangeError);
  });
});

describe('filters', () => {
  const level = (hz: number, filter: ReturnType<typeof lowPass>) => {
    const out = filtered(sine(hz, 44_100), [filter]);
    return levelOf(rmsOf(out, 22_050) * Math.SQRT2);
  };
  // Source: Bristow-Johnson's cookbook: half power at the corner, 12 dB an octave, shelf gain far above the corner.
  test.each([
    { what: 'low-pass at its corner', got: level(1000, lowPass(hertz(1000), RATE)), expected: -3.01 },
    { what: 'low-pass two octaves up', got: level(4000, lowPass(hertz(1000), RATE)), expected: -24.3 },
    { what: 'high-pass at its corner', got: level(1000, highPass(hertz(1000), RATE)), expected: -3.01 },
    { what: 'high-pass two octaves down', got: level(250, highPass(hertz(1000), RATE)), expected: -24.1 },
    { what: 'band-pass at its centre', got: level(1000, bandPass(hertz(1000), RATE, 4)), expected: 0 },
    { what: 'shelf far above', got: level(15_000, highShelf(hertz(1000), RATE, decibels(6))), expected: 6 },
    { what: 'shelf far below', got: level(50, highShelf(hertz(1000), RATE, decibels(6))), expected: 0 },
  ])('$what: $expected dB', ({ got, expected }) => {
    expect(Math.abs(got - expected)).toBeLessThan(0.25);
  });
  test('a corner above half the rate is refused', () => {
    expect(() => lowPass(hertz(23_000), RATE)).toThrow(RangeError);
  });
});

test('silence in the place of the sound before is silent, of its own length', () => {
  const silence = reusedSilence();
  const before = silence(100, RATE);
  before.left.fill(1);
  before.right.fill(1);
  for (const frames of [60, 100, 140]) {
    const { left, right } = silence(frames, RATE);
    expect([left, right]).toEqual([new Float32Array(frames), new Float32Array(frames)]);
    expect(left.buffer === before.left.buffer).toBe(frames <= 100);
    left.fill(1);
    right.fill(1);
  }
});

test('levels and gains', () => {
  expect(gainOf(decibels(20))).toBeCloseTo(10, 12);
  expect(levelOf(0.5)).toBeCloseTo(-6.02, 2);
  expect(rmsOf(sine(441, 44_100))).toBeCloseTo(Math.SQRT1_2, 6);
  expect(rmsOf(new Float32Array(0))).toBe(0);
});

test.each([
  [44_100, 11_025],
  [48_000, 11_025],
  [22_050, 44_100],
  [8_000, 11_025],
])('a sound of %i Hz at %i, block by block, is what the whole is', (from, to) => {
  const sound = Float32Array.from({ length: 5_003 }, (_, i) => Math.sin(0.03 * i) + 0.3 * Math.sin(0.41 * i));
  const whole = resampled(sound, hertz(from), hertz(to));
  for (const block of [1, 17, 640, 6_000]) {
    const resampling = resamplingOf(hertz(from), hertz(to));
    const pieces: number[] = [];
    for (let at = 0; at < sound.length; at += block)
      pieces.push(...resampling.take(sound.subarray(at, at + block)));
    pieces.push(...resampling.end());
    expect(pieces).toHaveLength(whole.length);
    // A point that falls on a sample may be read with one tap more at either edge of the kernel, which is −90 dB there.
    expect(Math.max(...whole.map((x, i) => Math.abs(x - (pieces[i] ?? 9))))).toBeLessThan(3e-5);
  }
});
