import { describe, expect, test } from 'vitest';
import { decibels, hertz } from '../core/index.ts';
import { gainOf, type StereoSound } from './buffers.ts';
import { loudnessOf, weightingAt } from './loudness.ts';
import { settleLoudness, TRACK_GOAL } from './settleLoudness.ts';
import { truePeakOf } from './truePeak.ts';

const RATE = hertz(48_000);

const sine = (stretches: readonly (readonly [number, number])[], frequency: number, rate = RATE) => {
  const frames = stretches.reduce((n, [, seconds]) => n + Math.round(seconds * rate), 0);
  const samples = new Float32Array(frames);
  let at = 0;
  for (const [level, seconds] of stretches) {
    const end = at + Math.round(seconds * rate);
    const gain = gainOf(decibels(level));
    for (; at < end; at += 1) samples[at] = gain * Math.sin((2 * Math.PI * frequency * at) / rate);
  }
  return samples;
};
const stereo = (samples: Float32Array, rate = RATE): StereoSound => ({ rate, left: samples, right: samples });

// Source: EBU Tech 3341 (2023), table 1, cases 1 to 5: stereo 1 kHz sines, level in dBFS and seconds.
describe('EBU Tech 3341 table 1', () => {
  test.each([
    { name: '1', stretches: [[-23, 20]], expected: -23 },
    { name: '2', stretches: [[-33, 20]], expected: -33 },
    { name: '3', stretches: [[-36, 10], [-23, 60], [-36, 10]], expected: -23 }, // biome-ignore format: a table
    { name: '4', stretches: [[-72, 10], [-36, 10], [-23, 60], [-36, 10], [-72, 10]], expected: -23 }, // biome-ignore format: a table
    { name: '5', stretches: [[-26, 20], [-20, 20.1], [-26, 20]], expected: -23 }, // biome-ignore format: a table
  ] as const)('case $name', ({ stretches, expected }) => {
    const measured = loudnessOf(stereo(sine(stretches, 1000)));
    expect(Math.abs(measured - expected)).toBeLessThan(0.1);
  });
});

// Source: ITU-R BS.1770-4, annex 1: 997 Hz at full scale in one channel reads −3.01 LKFS; at any sample rate.
test.each([48_000, 44_100, 32_000, 96_000])('997 Hz full scale at %i Hz', (hz) => {
  const rate = hertz(hz);
  expect(loudnessOf({ rate, samples: sine([[0, 5]], 997, rate) })).toBeCloseTo(-3.01, 1);
});

test('the weighting at 48 kHz is the published one, and nearly the same curve at 44.1 kHz', () => {
  expect(weightingAt(RATE)[0].b0).toBe(1.53512485958697);
  const response = (hz: number, rate: number) =>
    weightingAt(hertz(rate)).reduce((level, { b0, b1, b2, a1, a2 }) => {
      const w = (2 * Math.PI * hz) / rate;
      const size = (c0: number, c1: number, c2: number) =>
        Math.hypot(c0 + c1 * Math.cos(w) + c2 * Math.cos(2 * w), c1 * Math.sin(w) + c2 * Math.sin(2 * w));
      return level + 20 * Math.log10(size(b0, b1, b2) / size(1, a1, a2));
    }, 0);
  for (const hz of [40, 100, 500, 1000, 2000, 4000, 8000])
    expect(Math.abs(response(hz, 44_100) - response(hz, 48_000))).toBeLessThan(0.1);
});

test.each([
  { what: 'silence', samples: new Float32Array(48_000) },
  { what: 'under 400 ms', samples: sine([[-10, 0.3]], 1000) },
])('$what has no loudness', ({ samples }) => {
  expect(loudnessOf(stereo(samples))).toBe(Number.NEGATIVE_INFINITY);
});

describe('true peak', () => {
  // A quarter of the rate at 45°: samples at 0.707, the curve at 1. Source: ITU-R BS.1770-4, annex 2 (the example
  // of what a sample peak misses).
  test('finds what lies between samples', () => {
    const samples = Float32Array.from({ length: 4800 }, (_, i) => Math.sin((Math.PI / 2) * i + Math.PI / 4));
    expect(Math.max(...samples)).toBeLessThan(0.708);
    const middle = { rate: RATE, samples: samples.map((x, i) => x * Math.sin((Math.PI * i) / 4800)) };
    expect(Math.abs(truePeakOf(middle))).toBeLessThan(0.1);
  });
  test('is the sample peak where the curve is slow', () => {
    expect(truePeakOf({ rate: RATE, samples: sine([[-6, 1]], 100) })).toBeCloseTo(-6, 1);
  });
  test('of silence is −Infinity', () => {
    expect(truePeakOf({ rate: RATE, samples: new Float32Array(100) })).toBe(Number.NEGATIVE_INFINITY);
  });
});

describe('settling the loudness', () => {
  const clicks = (level: number) => {
    const samples = sine([[-30, 8]], 440);
    for (let i = 2000; i < samples.length; i += 24_000)
      for (let k = 0; k < 400; k += 1)
        samples[i + k] =
          (samples[i + k] ?? 0) + gainOf(decibels(level)) * Math.sin(k * 0.7) * Math.exp(-k / 90);
    return stereo(samples);
  };
  test.each([
    { what: 'a quiet tone', sound: stereo(sine([[-40, 5]], 440)) },
    { what: 'a loud tone', sound: stereo(sine([[-3, 5]], 440)) },
    { what: 'a tone with sharp clicks', sound: clicks(-8) },
  ])('$what comes to −16 LUFS and at most −1 dBTP', ({ sound }) => {
    const settled = settleLoudness(sound);
    expect(Math.abs(loudnessOf(settled) - TRACK_GOAL.loudness)).toBeLessThan(0.1);
    expect(truePeakOf(settled)).toBeLessThanOrEqual(TRACK_GOAL.peak);
  });
  test.each([
    { what: 'two channels', same: false },
    { what: 'a mono recording, one array for both', same: true },
  ])('$what can be settled in their own place', ({ same }) => {
    const { left } = clicks(-8);
    const own = { rate: RATE, left: left.slice(), right: left.slice() };
    const sound = same ? stereo(left.slice()) : own;
    const expected = settleLoudness(own);
    const settled = settleLoudness(sound, TRACK_GOAL, sound);
    expect(settled.left).toBe(sound.left);
    expect(settled.left).toEqual(expected.left);
    expect(settled.right).toEqual(expected.right);
  });
  test('silence stays as it is', () => {
    const silence = stereo(new Float32Array(48_000));
    expect(settleLoudness(silence)).toBe(silence);
  });
});
