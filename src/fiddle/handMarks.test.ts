import { describe, expect, test } from 'vitest';
import { notesOf, type Score } from '../score/index.ts';
import { handMarksOf, type MarkLevel, TUNINGS, withHandMarks } from './index.ts';
import { tuneOf } from './testing/tuneOf.ts';

const FULL = 'D4 E4 F#4 G4 A4 B4 C#5 D5';

/** Notes with their marks: "uF2" is an up-bow and a second finger on F. */
const marked = (score: Score, level: MarkLevel, options = {}): string =>
  notesOf(withHandMarks(score, handMarksOf(score, { level, ...options })))
    .map(({ note }) => {
      const bow = note.bow === null ? '' : note.bow === 'down' ? 'v' : 'u';
      return `${bow}${note.pitches[0].step}${note.fingers.join('+')}`;
    })
    .join(' ');

describe('some marks', () => {
  test.each([
    ['nothing in a plain scale', [FULL], 'D E F G A B C D'],
    ['second fingers where low and high change', ['F#4 G4 C5 D5 C#5 D5 G4 F#4'], 'F2 G C2 D C2 D G F'],
    ['the fourth finger and the open string after it', ['C#5 D5 E5 D5 C#5 B4 A4 E5'], 'C D E4 D C B A E0'],
    ['after a crossing over a string', ['G4 B5 E5:1/4 E5:1/2'], 'G B4 E E'],
    [
      'bars that open otherwise than the one before',
      ['D4 E4 F#4:1/4 G4 A4 B4 C#5', FULL, FULL],
      'D E F G A B C uD E F G A B C D D E F G A B C D',
    ],
    ['the first stroke of a treble', ['A4:1/16 A4:1/16 A4 D4:1/4 D4 E4 F#4 G4'], 'vA A A D D E F G'],
  ])('%s', (_, bars, expected) => expect(marked(tuneOf(bars), 'some')).toBe(expected));
  test('a bar that comes again bears its fingers once', () => {
    const bar = 'F#4:1/4 C5:1/4 F#4:1/4 C5:1/4';
    expect(marked(tuneOf([bar, bar]), 'some')).toBe('F2 C2 F2 C2 F C F C');
  });
  test('in three-four an up-bow at the bar is no news', () => {
    const waltz = tuneOf(['D4:1/4 E4:1/4 F#4:1/4', 'G4:1/4 A4:1/4 B4:1/4'], [3, 4], 'waltz');
    expect(marked(waltz, 'some')).toBe('D E F G A B');
  });
  test('where written lines begin, for text', () => {
    expect(marked(tuneOf([FULL]), 'some', { atWrittenLines: true })).toMatch(/^vD E/);
  });
});

test('all marks: every finger and stroke; none: what is written', () => {
  const score = tuneOf(['uD4 E4+B4 (F#4 G4) A4:1/2']);
  expect(marked(score, 'all')).toBe('uD0 vE1+1 uF2 G3 vA0');
  expect(marked(score, 'none')).toBe('uD E F G A');
});

test('fingers are those of the tuning and position that were asked for', () => {
  const score = tuneOf(['A3:1/4 E4:1/4 B4:1/4 D5:1/4']);
  expect(marked(score, 'all', { tuning: TUNINGS.AEAE })).toBe('vA0 uE0 vB1 uD3');
  expect(marked(tuneOf(['D6 C6 B5 A5 B5 C6 D6:1/4']), 'all', { highestPosition: 3 })).toBe(
    'vD4 uC3 vB2 uA1 vB2 uC3 vD4',
  );
});
