import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  add,
  compare,
  divide,
  floorOf,
  formatRational,
  modulo,
  multiply,
  parseRational,
  rational,
  subtract,
  toNumber,
} from './rational.ts';

const fractions = fc
  .tuple(fc.integer({ min: -2000, max: 2000 }), fc.integer({ min: 1, max: 2000 }))
  .map(([n, d]) => rational(n, d));
const SEED = { seed: 20261, numRuns: 300 };

describe('exact fractions', () => {
  test('are kept in lowest terms with the sign above', () => {
    expect(rational(6, 8)).toEqual({ num: 3, den: 4 });
    expect(rational(3, -6)).toEqual({ num: -1, den: 2 });
    expect(rational(0, -5)).toEqual({ num: 0, den: 1 });
  });
  test('refuse what is no fraction', () => {
    expect(() => rational(1, 0)).toThrow(RangeError);
    expect(() => rational(0.5)).toThrow(RangeError);
    expect(() => parseRational('3/')).toThrow(RangeError);
  });
  test.each([
    { a: '7/2', b: '1', floor: 3, rest: '1/2' },
    { a: '-1/8', b: '1/4', floor: -1, rest: '1/8' },
  ])('$a is $floor and a rest in steps of $b', ({ a, b, floor, rest }) => {
    expect(floorOf(parseRational(a))).toBe(floor);
    expect(formatRational(modulo(parseRational(a), parseRational(b)))).toBe(rest);
  });
  test('adding and taking away, multiplying and dividing undo each other', () => {
    fc.assert(
      fc.property(fractions, fractions, (a, b) => {
        expect(subtract(add(a, b), b)).toEqual(a);
        if (b.num !== 0) expect(divide(multiply(a, b), b)).toEqual(a);
        expect(Math.sign(compare(a, b))).toBe(Math.sign(toNumber(a) - toNumber(b)));
        expect(parseRational(formatRational(a))).toEqual(a);
      }),
      SEED,
    );
  });
});
