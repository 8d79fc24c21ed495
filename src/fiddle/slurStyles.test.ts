import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { notesOf, type Score } from '../score/index.ts';
import { bowedBarsOf, bowRepairsOf, withBowRepairs, withSlurs } from './index.ts';
import type { SlurStyle } from './slurStyles.ts';
import { tuneOf } from './testing/tuneOf.ts';

const FULL = 'D4 E4 F#4 G4 A4 B4 C#5 D5';
const ODD = 'D4 E4 F#4:1/4 G4 A4 B4 C#5';

/** Notes with their slurs: "(D E) F"; a bar line between bars, a hooked second note in capitals of its bow. */
const shown = (score: Score): string => {
  let bar = 0;
  return notesOf(score)
    .map(({ note, address }) => {
      const line = address.bar === bar ? '' : '| ';
      bar = address.bar;
      const bow = note.bow === null ? '' : note.bow === 'down' ? 'v' : 'u';
      return `${line}${'('.repeat(note.slurs.opens)}${bow}${note.pitches[0].step}${')'.repeat(note.slurs.closes)}`;
    })
    .join(' ');
};

const opens = (score: Score): readonly string[] => bowedBarsOf(score).map((b) => b.opens);

describe('repairs', () => {
  test('one slur on a beat in the odd bar, said in words; nothing is changed by asking', () => {
    const score = tuneOf([ODD, FULL]);
    const before = JSON.stringify(score);
    const repairs = bowRepairsOf(score);
    expect(JSON.stringify(score)).toBe(before);
    expect(repairs.map((r) => [r.kind, r.reason])).toEqual([
      ['slur', 'Slur D–E in bar 1: with an even number of strokes the next bar opens down.'],
    ]);
    expect(shown(withBowRepairs(score, repairs))).toBe('(D E) F G A B C | D E F G A B C D');
    expect(opens(withBowRepairs(score, repairs))).toEqual(['down', 'down']);
  });
  test('where no two running notes can go together the down-bow is taken again', () => {
    const score = tuneOf(['D4:1/2 D4:1/4 D4:1/4', FULL]);
    const repairs = bowRepairsOf(score);
    expect(repairs.map((r) => [r.kind, r.at.bar])).toEqual([['retake', 1]]);
    expect(opens(withBowRepairs(score, repairs))).toEqual(['down', 'down']);
  });
  test('the last bar of a part may be odd: the next part begins anew', () => {
    expect(bowRepairsOf(tuneOf([`|${ODD}`, `|${FULL}`]))).toEqual([]);
  });
  test('a bar that opens up because the bow is written is the teacher’s own', () => {
    expect(bowRepairsOf(tuneOf([FULL, `u${FULL}`]))).toEqual([]);
  });
  test('waltz bars are left to alternate', () => {
    expect(
      bowRepairsOf(tuneOf(['D4:1/4 E4:1/4 F#4:1/4', 'G4:1/4 A4:1/4 B4:1/4', 'D4:3/4'], [3, 4], 'waltz')),
    ).toEqual([]);
  });
  test('written slurs stay as they are', () => {
    const score = tuneOf(['(D4 E4) F#4 G4 A4 B4 C#5 D5', FULL]);
    const repaired = withBowRepairs(score, bowRepairsOf(score));
    expect(shown(repaired)).toMatch(/^\(D E\) /);
    expect(opens(repaired)).toEqual(['down', 'down']);
  });
});

describe('styles', () => {
  test.each([
    ['written', ['(D4 E4) F#4 G4 A4 B4 C#5 D5'], '(D E) F G A B C D'],
    ['separate', ['(D4 E4) F#4 G4 A4 B4 C#5 D5', FULL], 'D E F G A B C D | D E F G A B C D'],
    ['separate', [ODD, FULL], '(D E) F G A B C | D E F G A B C D'],
    ['onTheBeat', [FULL, FULL], '(D E) F G (A B) C D | (D E) F G (A B) C D'],
    ['onTheBeat', ['D4 E4', FULL], '(D E) | (D E) F G (A B) C D'],
    ['intoTheBeat', [FULL, FULL], 'D (E F) (G A) (B C) (D | D) (E F) (G A) (B C) D'],
  ] as const)('%s: %j', (style, bars, expected) => {
    expect(shown(withSlurs(tuneOf([...bars]), style))).toBe(expected);
  });
  test('into the beat goes over the bar line, not over the end of a part', () => {
    const score = tuneOf([`|${FULL}`, 'E4 F#4 G4 A4 B4 C#5 D5 E5', `|${FULL}`]);
    expect(shown(withSlurs(score, 'intoTheBeat'))).toBe(
      'D (E F) (G A) (B C) (D | E) (F G) (A B) (C D) E | D (E F) (G A) (B C) D',
    );
  });
  test('a jig on the beat: the first two of three', () => {
    const jig = tuneOf(['D4 E4 F#4 G4 A4 B4', 'D4:1/4 E4 F#4:1/4 G4'], [6, 8], 'jig');
    expect(shown(withSlurs(jig, 'onTheBeat'))).toBe('(D E) F (G A) B | D E F G');
  });
  test('a strathspey’s snaps are hooked: both notes in one direction', () => {
    const bar = 'D4:1/16 E4:3/16 F#4:3/16 G4:1/16 A4:1/16 B4:3/16 C#5:1/4';
    expect(shown(withSlurs(tuneOf([bar], [4, 4], 'strathspey'), 'hooked'))).toBe('(D vE) F G (A uB) C');
  });
  test('a part in which bows are written keeps its slurs', () => {
    const score = tuneOf(['|(D4 E4) vF#4 G4 A4 B4 C#5 D5', '|(D4 E4) F#4 G4 A4 B4 C#5 D5']);
    expect(shown(withSlurs(score, 'separate'))).toBe('(D E) vF G A B C D D E F G A B C D');
  });
});

const NAMES = ['D4', 'E4', 'F#4', 'A4', 'B4', 'D5'];
const figure = fc.oneof(
  fc.constantFrom(...NAMES).map((n) => [`${n}:1/4`]),
  fc.tuple(fc.constantFrom(...NAMES), fc.constantFrom(...NAMES)),
);
const reels = fc
  .array(fc.array(figure, { minLength: 4, maxLength: 4 }), { minLength: 2, maxLength: 6 })
  .map((bars) => tuneOf(bars.map((bar) => bar.flat().join(' '))));
const RUNS = { seed: 404, numRuns: 150 };

test('law: a style changes slurs and bows alone, and each slur that opens closes', () => {
  const styles: readonly SlurStyle[] = ['separate', 'onTheBeat', 'intoTheBeat', 'hooked'];
  fc.assert(
    fc.property(reels, fc.constantFrom(...styles), (score, style) => {
      const slurred = notesOf(withSlurs(score, style));
      expect(slurred.map(({ note }) => [note.pitches, note.length])).toEqual(
        notesOf(score).map(({ note }) => [note.pitches, note.length]),
      );
      let depth = 0;
      for (const { note } of slurred) {
        depth += note.slurs.opens - note.slurs.closes;
        expect([0, 1]).toContain(depth);
      }
      expect(depth).toBe(0);
    }),
    RUNS,
  );
});

test('law: repairs leave no more bars opening up than there were, few at all, and nothing to propose again', () => {
  let [before, after, bars] = [0, 0, 0];
  fc.assert(
    fc.property(reels, (score) => {
      const repaired = withBowRepairs(score, bowRepairsOf(score));
      const ups = (s: Score): number => opens(s).filter((o) => o === 'up').length;
      expect(ups(repaired)).toBeLessThanOrEqual(ups(score));
      expect(bowRepairsOf(repaired)).toEqual([]);
      before += ups(score);
      after += ups(repaired);
      bars += opens(score).length;
    }),
    RUNS,
  );
  expect(before / bars).toBeGreaterThan(0.3);
  expect(after / bars).toBeLessThan(0.05);
});
