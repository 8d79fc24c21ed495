import { expect, test } from 'vitest';
import { pitch } from '../music/index.ts';
import { waysToHold } from './index.ts';

const held = (name: string, highestPosition: 1 | 3 = 1): readonly string[] =>
  waysToHold(pitch(name), { highestPosition }).map((h) => `${h.finger} ${h.string}`);

// Common practice: an open string's pitch is the fourth finger of the string below; F♯5 is the first finger on E.
test('every finger and string that gives a pitch in first position, the easiest first', () => {
  expect(held('A4')).toEqual(['0 A', '4 D']);
  expect(held('F#5')).toEqual(['1 E']);
  expect(held('C#5')).toEqual(['2 A', '3 A']);
  expect(held('F3')).toEqual([]);
});

test('higher positions come after first position', () => {
  const ways = held('D5', 3);
  expect(ways[0]).toBe('3 A');
  expect(ways).toContain('1 A');
});
