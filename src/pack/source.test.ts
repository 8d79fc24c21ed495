import { expect, test } from 'vitest';
import { DEFAULT_SETTINGS } from '../lesson/index.ts';
import { readAbc } from '../notation/index.ts';
import { sourceOf, tuneOf } from './source.ts';

const SETTINGS = { ...DEFAULT_SETTINGS, date: '2026-01-31' };
const tuneText = (number: number): string => `X:${number}\nT:Tune ${number}\nM:4/4\nL:1/8\nK:G\nGABc dedB|\n`;

const packed = (text: string, number: number): string => {
  const tune = readAbc(text).tunes.find((t) => t.score.number === number);
  if (tune === undefined) throw new Error('no tune');
  const source = sourceOf(text, tune, SETTINGS, 'default');
  expect(tuneOf(source).score.parts).toEqual(tune.score.parts);
  return source.abc;
};

test("one tune of a book goes out with the book's own header", () => {
  const book = `%abc-2.1\nO:Hollin Quay\n\n${tuneText(1)}\n${tuneText(2)}`;
  expect(packed(book, 2)).toBe(`%abc-2.1\nO:Hollin Quay\n\n${tuneText(2)}`);
  expect(packed(tuneText(1), 1)).toBe(tuneText(1));
});

test('(regression) a tune that was written in Latin-1 says that it is UTF-8 now', () => {
  expect(packed(`%%abc-charset iso-8859-1\n\n${tuneText(1)}`, 1)).toBe(
    `%%abc-charset utf-8\n\n${tuneText(1)}`,
  );
});
