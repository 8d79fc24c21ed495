import { expect, test } from 'vitest';
import { hertz } from '../core/index.ts';
import type { MonoSound } from '../signal/index.ts';
import { hear, turntableSpeedOf } from './index.ts';
import { played } from './testing/played.ts';

/** Notes one after the other, the first at 0.2 seconds. */
const inRow = (notes: readonly (readonly [midi: number, length: number])[], cents: number): MonoSound => {
  let start = 0.2;
  return played(
    notes.map(([midi, length]) => {
      start += length;
      return { midi: midi + cents / 100, start: start - length, length };
    }),
  );
};

/** One long note whose bow turns in the middle: its loudness sinks to a share of itself and is back within 50 ms. */
const turned = (share: number): MonoSound => {
  const { samples, rate } = played([{ midi: 69, start: 0.2, length: 0.5 }]);
  const dipped = samples.map((x, i) => {
    const off = Math.abs(i / rate - 0.45) / 0.025;
    return off >= 1 ? x : x * (share + (1 - share) * off);
  });
  return { samples: dipped, rate };
};

const SCALE = [62, 64, 66, 67, 69, 71, 73, 74].map((midi) => [midi, 0.18] as const);

test.each([0, 35, -42])('a scale %s cents off: notes, times, tuning', (cents) => {
  const { samples, rate } = inRow(SCALE, cents);
  const { notes, tuning } = hear(samples, rate);
  expect(notes.map((n) => n.semitone)).toEqual(SCALE.map(([midi]) => midi));
  for (const [i, note] of notes.entries()) expect(Math.abs(note.start - (0.2 + 0.18 * i))).toBeLessThan(0.02);
  expect(Math.abs((tuning?.cents ?? 99) - cents)).toBeLessThan(2);
});

test('a note that is bowed again is two notes', () => {
  const { samples, rate } = inRow(
    [
      [69, 0.2],
      [69, 0.2],
      [71, 0.2],
    ],
    0,
  );
  expect(hear(samples, rate).notes.map((n) => n.semitone)).toEqual([69, 69, 71]);
});

test('a bow that turns gently on one pitch is heard; a held note under a plucked one is not parted', () => {
  const low = { midi: 57, start: 0.5, length: 0.25 };
  const sound = played([{ midi: 69, start: 0.2, length: 0.6 }, low]);
  expect(hear(sound.samples, sound.rate).notes.filter((n) => n.semitone === 69)).toHaveLength(1);
  const { samples, rate } = turned(0.55);
  expect(hear(samples, rate).notes.map((n) => n.semitone)).toEqual([69, 69]);
  expect(hear(turned(0.9).samples, rate).notes).toHaveLength(1);
});

test('a cut parts a note and is named', () => {
  const { samples, rate } = inRow(
    [
      [69, 0.2],
      [72, 0.04],
      [69, 0.2],
    ],
    0,
  );
  const { notes } = hear(samples, rate);
  expect(notes.map((n) => [n.semitone, n.ornament])).toEqual([
    [69, undefined],
    [69, 'cut'],
  ]);
});

test('a few notes that are far out of tune do not bend the tuning', () => {
  const bent = SCALE.map(([midi, length], i) => [i === 3 ? midi + 0.35 : midi, length] as const);
  const { samples, rate } = inRow([...SCALE, ...bent], 10);
  expect(Math.abs((hear(samples, rate).tuning?.cents ?? 99) - 10)).toBeLessThan(1);
});

test('silence has no notes and no tuning', () => {
  expect(hear(new Float32Array(22_050), hertz(22_050))).toMatchObject({ notes: [], tuning: null });
});

// Source: 78.26 rpm and 77.92 rpm, the nominal standards for mains of 60 and 50 Hz, lie 7.51 cents apart.
test('a disc that turned at 77.92 sounds 7.5 cents flat of one at 78.26', () => {
  expect(turntableSpeedOf(7.51)).toBeCloseTo(77.92, 2);
});
