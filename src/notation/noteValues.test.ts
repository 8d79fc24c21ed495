import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatRational, multiply, parseWholeNotes, rational, sum, wholeNotes } from '../core/index.ts';
import { flagsOf, lengthOfValue, noteValuesOf } from './noteValues.ts';

const written = (length: string, ratio: readonly [number, number] | null = null): string =>
  noteValuesOf(parseWholeNotes(length), ratio === null ? null : { actual: ratio[0], normal: ratio[1] })
    .map(
      (v) => v.value + '.'.repeat(v.dots) + (v.ratio === null ? '' : ` ${v.ratio.actual}:${v.ratio.normal}`),
    )
    .join(' + ');

describe('written values of a length', () => {
  test.each([
    ['1/8', 'eighth'],
    ['3/16', 'eighth.'],
    ['7/32', 'eighth..'],
    ['15/64', 'eighth...'],
    ['1', 'whole'],
    ['3', 'breve.'],
    ['4', 'long'],
    ['5/32', 'eighth + 32nd'],
    ['5/8', 'half + eighth'],
    ['9/8', 'whole + eighth'],
    ['9/16', 'half + 16th'],
    ['11/16', 'half + eighth.'],
    ['13/16', 'half. + 16th'],
    ['9', 'long. + breve.'],
    ['1/12', 'eighth 3:2'],
    ['1/20', '16th 5:4'],
    ['1/2048', '1024th 2:1'],
  ])('%s of a whole note is written %s', (length, expected) => expect(written(length)).toBe(expected));

  // Source: ABC standard 2.1, section 4.13: three notes in the time of two, and so on.
  test.each([
    ['1/12', [3, 2], 'eighth 3:2'],
    ['1/6', [3, 2], 'quarter 3:2'],
    ['1/8', [3, 2], 'eighth. 3:2'],
    ['3/16', [2, 3], 'eighth 2:3'],
    ['1/20', [5, 2], 'eighth 5:2'],
  ] as const)('%s in a tuplet of %j is written %s', (length, ratio, expected) =>
    expect(written(length, ratio)).toBe(expected),
  );

  test('the values last together exactly as long as was asked', () => {
    const lengths = fc
      .tuple(fc.integer({ min: 1, max: 900 }), fc.integer({ min: 1, max: 600 }))
      .map(([n, d]) => wholeNotes(n, d));
    const ratios = fc.constantFrom(
      null,
      { actual: 3, normal: 2 },
      { actual: 2, normal: 3 },
      { actual: 7, normal: 4 },
    );
    fc.assert(
      fc.property(lengths, ratios, (length, ratio) => {
        const values = noteValuesOf(length, ratio);
        expect(formatRational(sum(values.map((v) => v.length)))).toBe(formatRational(length));
        for (const v of values) {
          const dotted = multiply(lengthOfValue(v.value), rational(2 ** (v.dots + 1) - 1, 2 ** v.dots));
          const played = multiply(dotted, rational(v.ratio?.normal ?? 1, v.ratio?.actual ?? 1));
          expect(formatRational(played)).toBe(formatRational(v.length));
        }
      }),
      { seed: 20262, numRuns: 300 },
    );
  });

  test('refuses nothing and less', () => expect(() => noteValuesOf(wholeNotes(0), null)).toThrow(RangeError));

  test('flags', () => {
    expect([flagsOf('whole'), flagsOf('quarter'), flagsOf('eighth'), flagsOf('32nd')]).toEqual([0, 0, 1, 3]);
  });
});
