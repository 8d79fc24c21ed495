import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Score } from '../score/index.ts';
import { difficultyOf } from './index.ts';
import { tuneOf } from './testing/tuneOf.ts';

const RUN = 'D4 E4 F#4 G4 A4 B4 C#5 D5';
const work = (bar: string, options = {}): number => difficultyOf(tuneOf([bar]), options).work;

describe('what makes a bar harder', () => {
  test.each([
    ['more notes', 'D4:1/4 F#4:1/4 A4:1/4 D5:1/4', RUN],
    ['more crossings', 'D4 E4 D4 E4 D4 E4 D4 E4', 'D4 B4 D4 B4 D4 B4 D4 B4'],
    ['one finger for two places', 'F#4:1/2 C#5:1/2', 'F#4:1/2 C5:1/2'],
    ['a stretch of the fourth finger', 'A5:1/1', 'C6:1/1'],
    ['a slur', 'D4 E4 F#4 G4 A4 B4 C#5 D5:1/8', '(D4 E4) (F#4 G4) A4 B4 C#5 D5'],
    ['a string beside', 'B4:1/1', 'B4+D4:1/1'],
  ])('%s', (_, easier, harder) => expect(work(harder)).toBeGreaterThan(work(easier)));
  test('an odd number of strokes', () => {
    const bow = (bar: string): number => difficultyOf(tuneOf([bar])).bars[0]?.parts.bow ?? 0;
    expect(bow('D4:1/4 D4:1/4 D4:1/4 D4:1/4')).toBe(0);
    expect(bow('D4:1/4 D4:1/4 D4:1/2')).toBeGreaterThan(0);
  });
  test('twice the tempo is twice the work a second', () => {
    expect(work(RUN, { beatsPerMinute: 140 })).toBeCloseTo(2 * work(RUN, { beatsPerMinute: 70 }), 9);
  });
  test('the words follow the work', () => {
    const words = [20, 60, 70, 90, 140].map(
      (beatsPerMinute) => difficultyOf(tuneOf([RUN]), { beatsPerMinute }).word,
    );
    expect(words).toEqual(['very easy', 'moderate', 'moderate', 'hard', 'very hard']);
  });
  test('the parts of a bar add up to it, and the hardest bar is named', () => {
    const found = difficultyOf(tuneOf(['D4:1/2 A4:1/2', RUN]));
    expect(found.hardest).toBe(1);
    for (const bar of found.bars)
      expect(Object.values(bar.parts).reduce((a, b) => a + b, 0)).toBeCloseTo(bar.work, 9);
  });
  test('a tune without notes is no work', () => {
    expect(difficultyOf({ ...tuneOf([RUN]), parts: [] })).toMatchObject({
      work: 0,
      hardest: null,
      word: 'very easy',
    });
  });
  test('a tempo of 0 is a slip of the caller', () => {
    expect(() => difficultyOf(tuneOf([RUN]), { beatsPerMinute: 0 })).toThrow(RangeError);
  });
});

/** The tune with some notes held over the next ones, as bones are: only onsets and pitches that were there. */
const thinned = (score: Score, keep: readonly boolean[]): Score => {
  let at = 0;
  return {
    ...score,
    parts: score.parts.map((part) => ({
      ...part,
      bars: part.bars.map((bar) => {
        const events: (typeof bar.events)[number][] = [];
        for (const [i, event] of bar.events.entries()) {
          const last = events.at(-1);
          at += 1;
          if (i === 0 || last === undefined || keep[at % keep.length]) events.push(event);
          else {
            const num = last.length.num * event.length.den + event.length.num * last.length.den;
            events[events.length - 1] = {
              ...last,
              length: { ...last.length, num, den: last.length.den * event.length.den },
            };
          }
        }
        return { ...bar, events };
      }),
    })),
  };
};

test('law: a bar with fewer of the same notes is never harder', () => {
  const names = [
    'G3',
    'B3',
    'D4',
    'E4',
    'F4',
    'F#4',
    'G4',
    'A4',
    'B4',
    'C5',
    'C#5',
    'D5',
    'E5',
    'F#5',
    'G5',
    'B5',
  ];
  const note = fc.constantFrom(...names);
  const bar = fc.array(note, { minLength: 8, maxLength: 8 }).map((n) => n.join(' '));
  const keep = fc.array(fc.boolean(), { minLength: 5, maxLength: 13 });
  fc.assert(
    fc.property(fc.array(bar, { minLength: 1, maxLength: 4 }), keep, (bars, kept) => {
      const score = tuneOf(bars);
      const all = difficultyOf(score).bars;
      const fewer = difficultyOf(thinned(score, kept)).bars;
      fewer.forEach((b, i) => {
        expect(b.work).toBeLessThanOrEqual((all[i]?.work ?? 0) + 1e-9);
      });
    }),
    { seed: 7, numRuns: 200 },
  );
});
