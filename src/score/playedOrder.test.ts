import { describe, expect, test } from 'vitest';
import { MOST_PLAYED_BARS, playedOrder } from './playedOrder.ts';
import { sketchScore } from './testing/sketch.ts';
import { barsOf } from './walk.ts';

/** Printed numbers in playing order; pick-ups and rests of bars as "p" and "r". */
const played = (sketch: string, order: string | null = null): string => {
  const score = sketchScore(sketch, order);
  const bars = new Map(barsOf(score).map(({ bar, part, index }) => [`${part}/${index}`, bar]));
  return playedOrder(score)
    .map(({ part, bar }) => {
      const found = bars.get(`${part}/${bar}`);
      return found?.number ?? (found?.role === 'pickup' ? 'p' : 'r');
    })
    .join(' ');
};

// Source: ABC standard 2.1, sections 4.8 "Repeat/bar symbols", 4.9 "First and second repeats", 4.10 "Variant endings".
describe('repeats and endings', () => {
  test.each([
    ['no repeats', '8 | 8 |]', '1 2'],
    ['a repeat end without a start goes to the beginning', '8 | 8 :|', '1 2 1 2'],
    ['… to the last repeat end', '8 | 8 :| 8 | 8 :|', '1 2 1 2 3 4 3 4'],
    ['… to the last double bar', '8 || 8 | 8 :|', '1 2 3 2 3'],
    ['a repeat that is started goes over double bars', '|: 8 || 8 :|', '1 2 1 2'],
    ['both dots at one line', '8 | 8 :: 8 | 8 :|', '1 2 1 2 3 4 3 4'],
    ['three times', '8 ::| 8 |]', '1 1 1 2'],
    ['the pick-up comes again', '1 | 8 | 7 :|', 'p 1 2 p 1 2'],
    ['first and second ending', '8 | [1 8 :| [2 8 ||', '1 2 1 3'],
    ['endings of two bars', '|: 8 | [1 8*2 :| [2 8*2 || 8 |]', '1 2 3 1 4 5 6'],
    ['a list of passes', '|: 8 | [1,3 8 :| [2,4 8 :| 8 |]', '1 2 1 3 1 2 1 3 4'],
    ['three endings', '|: 8 | [1 8 :| [2 8 :| [3 8 ||', '1 2 1 3 1 4'],
    ['endings without a repeat sign', '8 | [1 8 | [2 8 ||', '1 2 1 3'],
    ['endings inside a bar', '8 | 4 | [1 4 :| [2 4 ||', '1 2 r 1 2 r'],
    ['a first ending only', '8 | [1 8 :| 8 |]', '1 2 1 3'],
    ['a second ending that repeats on', '8 | [1 8 :| [2 8 :| 8 |]', '1 2 1 3 4'],
  ])('%s', (_, sketch, expected) => expect(played(sketch)).toBe(expected));
});

// Source: ABC standard 2.1, section 3.1.9 "P: - parts"; runs beside printed repeats: common practice of tune books.
describe('the order of parts', () => {
  const ab = 'P:A 8 | P:B 8 |]';
  const repeated = 'P:A 8 :| P:B 8 :|';
  test.each([
    [ab, 'AABB', '1 1 2 2'],
    [ab, 'ABA', '1 2 1'],
    [repeated, 'AB', '1 1 2 2'],
    [repeated, 'AABB', '1 1 2 2'],
    [repeated, 'ABAB', '1 1 2 2 1 1 2 2'],
    [repeated, 'AAAABB', '1 1 1 1 2 2'],
    ['P:A 8 :| P:B 8 |]', 'AAB', '1 1 2'],
    ['P:A 8 :| P:B 8 |]', 'AAAB', '1 1 1 1 1 1 2'],
  ])('%s in the order %s', (sketch, order, expected) => expect(played(sketch, order)).toBe(expected));

  test('passes count over the whole', () => {
    expect(
      playedOrder(sketchScore(repeated, 'ABA'))
        .map((b) => `${b.part}${b.pass}`)
        .join(' '),
    ).toBe('A0 A1 B0 B1 A2 A3');
  });
});

test('a tune that unfolds without end is refused', () => {
  const score = sketchScore('8*1500 | [1,2,3,4,5,6,7,8,9,10,11,12,13,14 8 :|');
  expect(() => playedOrder(score)).toThrow(RangeError);
  expect(MOST_PLAYED_BARS).toBe(20_000);
});
