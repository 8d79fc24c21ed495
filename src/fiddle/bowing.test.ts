import { describe, expect, test } from 'vitest';
import { bowedBarsOf, bowingOf } from './index.ts';
import { tuneOf } from './testing/tuneOf.ts';

const FULL = 'D4 E4 F#4 G4 A4 B4 C#5 D5';

/** "d" and "u" where strokes begin, "." where one goes on; a bar line between bars. */
const bows = (bars: readonly string[], time?: readonly [number, number], rhythm?: string): string => {
  let bar = 0;
  return bowingOf(tuneOf(bars, time, rhythm))
    .map((n) => {
      const line = n.address.bar === bar ? '' : '|';
      bar = n.address.bar;
      return line + (n.begins ? n.bow.charAt(0) : '.');
    })
    .join('');
};

describe('pick-ups', () => {
  // Source: Ryan's Mammoth Collection 1883 as counted: one note 331 up : 0; two separate 123 down : 16 up; two slurred
  // 160 up : 0; three slurred 86 up : 8; three separate 5 up; one slurred into the bar 2 down.
  test.each([
    ['none', [FULL], 'dudududu'],
    ['one note', ['A4', FULL], 'u|dudududu'],
    ['two separate', ['A4 G4', FULL], 'du|dudududu'],
    ['two slurred', ['(A4 G4)', FULL], 'u.|dudududu'],
    ['three slurred', ['(A4 G4 F#4)', FULL], 'u..|dudududu'],
    ['three separate', ['A4 G4 F#4', FULL], 'udu|dudududu'],
    ['one slurred into the bar', ['(A4', 'D4) E4 F#4 G4 A4 B4 C#5 D5'], 'd|.udududu'],
  ] as const)('%s', (_, bars, expected) => expect(bows(bars)).toBe(expected));
  test('a written bow in it leads', () => expect(bows(['A4 vG4', FULL])).toBe('ud|udududud'));
});

describe('strokes', () => {
  test('slurs and ties go on in one stroke, also over the bar line', () => {
    expect(bows(['(D4 E4) F#4 G4 (A4 B4 C#5) D5:1/8-', `D5 E5 F#5 G5 A5 B5 A5 G5`])).toBe(
      'd.udu..d|.udududu',
    );
  });
  test('a written bow turns what follows', () => {
    expect(bows(['D4 E4 vF#4 G4 A4 vB4 C#5 D5'])).toBe('dududdud');
  });
  test('a treble takes three strokes: written out, nothing after it changes', () => {
    expect(bows(['A4:1/16 A4:1/16 A4 D4:1/4 D4 E4 F#4 G4'])).toBe('dudududu');
  });
  test('after a rest of a beat or more, on a beat, the bow starts down; after less it alternates', () => {
    expect(bows(['D4 E4 F#4:1/4 z:1/2', FULL])).toBe('dud|dudududu');
    expect(bows(['D4 z:1/8 F#4:1/4 G4:1/2', FULL])).toBe('dud|udududud');
  });
  test('a part begins anew, and says that the bow is set again', () => {
    const bowing = bowingOf(tuneOf([`|${FULL}`, 'D4 E4 F#4 G4 A4 B4 A4:1/4', `|${FULL}`]));
    const first = bowing.find((n) => n.address.part === 'B');
    expect(first).toMatchObject({ bow: 'down', begins: true, retaken: true, written: false });
  });
  test('a jig alternates from bar to bar', () => {
    expect(bows(['D4 E4 F#4 G4 A4 B4', 'D4:1/4 E4 F#4:1/4 G4'], [6, 8], 'jig')).toBe('dududu|dudu');
  });
});

describe('odd bars are shown', () => {
  test('the next bar opens up and names the bar that turned the bow, until another odd bar turns it back', () => {
    const odd = 'D4 E4 F#4:1/4 G4 A4 B4 C#5';
    const bars = bowedBarsOf(tuneOf([odd, FULL, odd, FULL]));
    expect(bars.map((b) => [b.opens, b.strokes, b.turnedBy])).toEqual([
      ['down', 7, null],
      ['up', 8, 0],
      ['up', 7, 0],
      ['down', 8, null],
    ]);
  });
  test('a bar that a slur leads into has no stroke of its own to open with', () => {
    const bars = bowedBarsOf(tuneOf(['D4 E4 F#4 G4 A4 B4 C#5 (D5', 'E5) F#5 G5 A5 B5 A5 G5 F#5']));
    expect(bars.map((b) => b.opens)).toEqual(['down', 'carried']);
  });
  test('so has a bar that begins with a rest', () => {
    expect(bowedBarsOf(tuneOf(['z:1/2 D4:1/4 E4:1/4'])).map((b) => b.opens)).toEqual(['silent']);
  });
});
