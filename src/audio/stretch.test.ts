import { expect, test } from 'vitest';
import { midiNumber, randomFrom, seconds } from '../core/index.ts';
import type { TimedNote } from '../perform/index.ts';
import { loosened } from './loosened.ts';
import { type Sounding, stemInStretches } from './stretch.ts';

/** Soundings of any length anywhere, each a ramp of its own. */
const soundings = (seed: number): readonly Sounding[] => {
  const random = randomFrom(seed);
  return Array.from({ length: 40 }, (_, n) => {
    const start = Math.floor(random.next() * 900);
    const end = start + 1 + Math.floor(random.next() * 300);
    return {
      start,
      end,
      play: ({ samples, from }: Parameters<Sounding['play']>[0]) => {
        for (let i = start; i < end; i += 1)
          samples[i - from] = (samples[i - from] ?? 0) + (n + 1) * (i - start + 1);
      },
    };
  }).toSorted((a, b) => a.start - b.start);
};
const stem = (seed: number, length: number): readonly number[] => {
  const next = stemInStretches(soundings(seed), length);
  return Array.from({ length: Math.ceil(1200 / length) }, () => [...next()])
    .flat()
    .slice(0, 1200);
};

test.each([1, 2, 3])('a stem played in stretches is the stem played at once (%i)', (seed) => {
  const whole = stem(seed, 1200);
  expect(whole.some((x) => x > 0)).toBe(true);
  for (const length of [1, 7, 100, 333]) expect(stem(seed, length)).toEqual(whole);
});

const line = Array.from(
  { length: 60 },
  (_, i): TimedNote => ({
    voice: 'fiddle',
    start: seconds(i * 0.2),
    length: seconds(0.2),
    midi: midiNumber(69),
    level: 0.7,
    attack: i % 3 === 1 ? 'slur' : 'bow',
  }),
);

test('hands come early and late by a few milliseconds, and notes that joined still join', () => {
  const loose = loosened('fiddle', line, 1);
  const shifts = loose.map((n, i) => n.start - (line[i]?.start ?? 0));
  expect(shifts[0]).toBe(0);
  expect(Math.max(...shifts.map(Math.abs))).toBeLessThanOrEqual(0.009 + 1e-9);
  expect(Math.max(...shifts.map(Math.abs))).toBeGreaterThan(0.002);
  loose.forEach((note, i) => {
    const next = loose[i + 1];
    if (next !== undefined) expect(note.start + note.length).toBeCloseTo(next.start, 9);
    // What is slurred keeps its distance to its stroke.
    if (note.attack === 'slur') expect(shifts[i]).toBeCloseTo(shifts[i - 1] ?? 0, 9);
  });
});
test('the same seed gives the same differences, another one others; the click keeps time', () => {
  expect(loosened('fiddle', line, 1)).toEqual(loosened('fiddle', line, 1));
  expect(loosened('fiddle', line, 2)).not.toEqual(loosened('fiddle', line, 1));
  expect(loosened('click', line, 1)).toBe(line);
});
test('a stroke over the strings stays one movement', () => {
  const strum = [0, 0.015, 0.03, 0.5, 0.515].map(
    (start): TimedNote => ({
      ...(line[0] as TimedNote),
      voice: 'guitar',
      start: seconds(start),
      attack: 'pluck',
    }),
  );
  const [a, b, c, d, e] = loosened('guitar', strum, 3).map((n) => n.start);
  expect((b ?? 0) - (a ?? 0)).toBeCloseTo(0.015, 9);
  expect((c ?? 0) - (a ?? 0)).toBeCloseTo(0.03, 9);
  expect((e ?? 0) - (d ?? 0)).toBeCloseTo(0.015, 9);
});
