import { expect, test } from 'vitest';
import { triadsOfLikeBars } from './alike.ts';
import { cellsOf } from './cells.ts';
import { tuneOf } from './testing/tuneOf.ts';

const [ONE, TWO] = ['D4 F#4 A4 F#4 D4 F#4 A4 F#4', 'E4 A4 C#5 A4 E4 A4 C#5 A4'];

test('bars with the same melody lean to what most of them have; a bar that comes once leans nowhere', () => {
  const cells = cellsOf(tuneOf('D', 'major', [ONE, TWO, ONE, ONE]));
  expect(cells).toHaveLength(8);
  expect(triadsOfLikeBars(cells, [0, 0, 14, 14, 5, 0, 0, 0])).toEqual([0, 0, null, null, 0, 0, 0, 0]);
});

test('halves are told apart: the same notes in another half are another place', () => {
  const cells = cellsOf(tuneOf('D', 'major', [ONE, ONE]));
  expect(triadsOfLikeBars(cells, [0, 5, 0, 5])).toEqual([0, 5, 0, 5]);
});
