import { expect, test } from 'vitest';
import { hertz } from '../core/index.ts';
import { stretchSound } from './index.ts';

const RATE = hertz(22_050);

/** Four notes of 0.25 s, each with a sharp attack. */
const PITCHES = [440, 494, 523, 587];
const sound = {
  kind: 'sound' as const,
  recordedAt: hertz(22_050),
  rate: RATE,
  channels: [
    Float32Array.from({ length: RATE }, (_, i) => {
      const note = Math.floor((4 * i) / RATE);
      const since = i / RATE - note / 4;
      const gate = Math.min(1, since / 0.005, (0.25 - since) / 0.03);
      return 0.4 * gate * Math.sin((2 * Math.PI * (PITCHES[note] ?? 440) * i) / RATE);
    }),
  ],
};

const crossings = (samples: Float32Array, from: number, to: number): number => {
  let count = 0;
  for (let i = Math.round(from * RATE) + 1; i < to * RATE; i += 1)
    if ((samples[i - 1] as number) < 0 && (samples[i] as number) >= 0) count += 1;
  return count / (to - from);
};

test('half as fast: twice as long, every note at its place and pitch', async () => {
  const slow = await stretchSound(sound, { speed: 0.5, cents: 0, onsets: [0, 0.25, 0.5, 0.75] });
  const [samples = new Float32Array(0)] = slow.channels;
  expect(samples.length / RATE).toBeCloseTo(2, 2);
  for (const [i, f] of PITCHES.entries())
    expect(Math.abs(crossings(samples, i / 2 + 0.1, i / 2 + 0.4) / f - 1)).toBeLessThan(0.02);
});

test('an attack stays as quick as it was', async () => {
  const slow = await stretchSound(sound, { speed: 0.5, cents: 0, onsets: [0, 0.25, 0.5, 0.75] });
  const [samples = new Float32Array(0)] = slow.channels;
  const loudest = (from: number, to: number): number =>
    Math.max(...samples.subarray(Math.round(from * RATE), Math.round(to * RATE)).map(Math.abs));
  // Just before the second note it is let down; 15 ms later it is at full strength.
  expect(loudest(0.496, 0.4995)).toBeLessThan(0.2);
  expect(loudest(0.505, 0.52)).toBeGreaterThan(0.35);
});

test('retuned by 40 cents, the length stays', async () => {
  const moved = await stretchSound(sound, { speed: 1, cents: 40, onsets: [0, 0.25, 0.5, 0.75] });
  const [samples = new Float32Array(0)] = moved.channels;
  expect(samples.length / RATE).toBeCloseTo(1, 1);
  expect(Math.abs(crossings(samples, 0.05, 0.23) / (440 * 2 ** (40 / 1200)) - 1)).toBeLessThan(0.02);
});
