import { expect, test } from 'vitest';
import { compare, equals, sum } from '../core/index.ts';
import { barsOf, type Score, writtenLengthOf } from '../score/index.ts';
import { chordPlanOf, withChords } from './index.ts';
import { tuneOf } from './testing/tuneOf.ts';

// Laws that any tune must keep; tunes of three metres, one with bars that are too short and too long for theirs.
const RUN = 'D4 E4 F#4 G4 A4 B4 C#5 D5';
const tunes: readonly (readonly [string, Score])[] = [
  ['a reel', tuneOf('D', 'major', new Array<string>(16).fill(RUN))],
  ['a slip jig', tuneOf('E', 'dorian', new Array<string>(8).fill(`${RUN} E5`), [9, 8])],
  ['a waltz', tuneOf('G', 'minor', new Array<string>(8).fill('G4 Bb4 D5 G5 F5 D5'), [3, 4])],
  ['five beats', tuneOf('A', 'phrygian', new Array<string>(4).fill(`${RUN} E5 F#5`), [5, 4])],
  ['wrong bar sums', tuneOf('A', 'mixolydian', ['A4', RUN, `${RUN} ${RUN}`, 'A4 B4', RUN])],
];

test.each(tunes)('%s: every bar but a pick-up is filled with chords, end to end', (_, score) => {
  const plan = chordPlanOf(score);
  for (const { bar, part, index } of barsOf(score)) {
    const own = plan.filter((c) => c.part === part && c.bar === index);
    if (bar.role === 'pickup') expect(own).toEqual([]);
    else expect(equals(sum(own.map((c) => c.length)), writtenLengthOf(bar))).toBe(true);
    own.forEach((c, i) => {
      const before = own.slice(0, i);
      expect(compare(c.onset, sum(before.map((b) => b.length)))).toBe(0);
    });
  }
});

test.each(tunes)('%s: symbols on the sheet say the plan again', (_, score) => {
  const plan = chordPlanOf(score);
  const sheet = withChords(score, plan);
  const again = chordPlanOf(sheet);
  expect(again.map((c) => ({ ...c, source: 'inferred' }))).toEqual(plan);
  expect(withChords(sheet, again)).toEqual(sheet);
});
