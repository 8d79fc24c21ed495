import fc from 'fast-check';
import { expect, test } from 'vitest';
import { wholeNotes } from '../../core/index.ts';
import { keyOf, metre } from '../../music/index.ts';
import { type Bar, barsOf, fingerprintOf, writtenLengthOf } from '../../score/index.ts';
import { readOne } from '../testing/readOne.ts';
import { scoreArbitrary } from '../testing/scoreArbitrary.ts';
import { readAbcBar, writeAbcBar } from './index.ts';

const JIG = {
  key: keyOf({ step: 'A', alter: 0 }, 'dorian'),
  metre: metre(6, 8),
  unit: wholeNotes(1, 8),
};
const frame = barsOf(readOne('ABA cBA|', 'M:6/8\nL:1/8\nK:Ador').score)[0]?.bar as Bar;

test.each([
  ['A2A f2A', 'A4:1/4 A4:1/8 F#5:1/4 A4:1/8'],
  ['| A3 =f3 |', 'A4:3/8 F5:3/8'],
  ['|: A3 e3 :|', 'A4:3/8 E5:3/8'],
  ['A3 e3-', 'A4:3/8 E5:3/8-'],
  ['z3 A,3', 'z3/8 A3:3/8'],
  ['z6', 'z3/4'],
  ['A', 'A4:1/8'],
  // ABC standard 2.1, section 4.13: "(5" is five notes in the time of three in compound metres.
  ['(5ABcde A3', 'A4:3/40 B4:3/40 C5:3/40 D5:3/40 E5:3/40 A4:3/8'],
])('"%s" is read in the key and metre of its tune', (text, expected) => {
  const read = readAbcBar(text, JIG);
  if (read.kind !== 'bar') throw new Error(JSON.stringify(read.diagnostics));
  expect(read.diagnostics).toEqual([]);
  expect(fingerprintOf({ ...frame, events: read.events })).toBe(expected);
});

test.each([
  ['', 'bar-empty'],
  ['||', 'bar-empty'],
  ['K:D', 'bar-is-field'],
  ['A3 e3 % why', 'bar-is-field'],
  ['A3|e3', 'bar-is-several'],
  ['A3\ne3', 'bar-on-lines'],
  ['A3 "x e3', 'quote-unclosed'],
])('"%s" is refused: %s', (text, code) => {
  const read = readAbcBar(text, JIG);
  expect(read.kind).toBe('problem');
  expect(read.diagnostics.map((d) => d.code)).toContain(code);
  expect(read.diagnostics.every((d) => d.message !== '' && d.hint !== undefined)).toBe(true);
});

test('places count from the start of what was typed', () => {
  const read = readAbcBar('| A3 ? e3', JIG);
  expect(read.diagnostics).toMatchObject([{ code: 'sign-unknown', span: { start: 5, end: 6 } }]);
});

test('a bar that is written is read again as it was', () => {
  let compared = 0;
  fc.assert(
    fc.property(scoreArbitrary, (score) => {
      for (const { bar } of barsOf(score)) {
        const crossing = bar.events.some((e) => e.tuplet !== null) || bar.fields.length > 0;
        if (crossing || bar.events.length === 0) continue;
        const read = readAbcBar(writeAbcBar(bar, score.unit), { ...bar, unit: score.unit });
        if (read.kind !== 'bar') throw new Error(JSON.stringify(read.diagnostics));
        expect(writtenLengthOf({ ...bar, events: read.events })).toEqual(writtenLengthOf(bar));
        expect(fingerprintOf({ ...bar, events: read.events })).toBe(fingerprintOf(bar));
        compared += 1;
      }
    }),
    { seed: 20261125, numRuns: 100 },
  );
  expect(compared).toBeGreaterThan(100);
});
