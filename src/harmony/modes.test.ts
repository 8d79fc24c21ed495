import { describe, expect, test } from 'vitest';
import { formatChord, MODES } from '../music/index.ts';
import { chordPlanOf } from './index.ts';
import { tuneOf } from './testing/tuneOf.ts';
import { thirdIsDoubtful } from './thirds.ts';
import { chordOf, triadClass, vocabularyOf } from './vocabulary.ts';

const ALL_TWELVE = new Array<number>(12).fill(1);
const namesIn = (mode: (typeof MODES)[number], sounding: readonly number[]): readonly string[] =>
  vocabularyOf(mode, sounding).map((triad) =>
    formatChord(chordOf(triad, { tonic: { step: 'D', alter: 0 }, mode }, false)),
  );
const without = (...degrees: readonly number[]): readonly number[] =>
  ALL_TWELVE.map((n, i) => (degrees.includes(i) ? 0 : n));

describe('the vocabulary of each mode', () => {
  // Common practice: major I IV V vi ii; Mixolydian I ♭VII IV v; Dorian i ♭VII IV ♭III v; minor i ♭VII ♭VI ♭III iv v.
  test.each([
    ['major', without(6, 8, 10), ['D', 'G', 'A', 'Bm', 'Em']],
    ['mixolydian', without(11), ['D', 'C', 'G', 'Am']],
    ['dorian', without(11), ['Dm', 'C', 'G', 'F', 'Am']],
    ['minor', without(11), ['Dm', 'C', 'Bb', 'F', 'Gm', 'Am']],
  ] as const)('D %s', (mode, sounding, names) => expect(namesIn(mode, sounding)).toEqual(names));
  test('IV goes with a Dorian tune only where the tune has its sixth', () => {
    expect(namesIn('dorian', without(9, 11))).not.toContain('G');
  });
  test('V goes with a minor tune only where the tune raises its seventh', () => {
    expect(namesIn('minor', ALL_TWELVE)).toContain('A');
    expect(namesIn('minor', without(11))).not.toContain('A');
  });
  test('no mode has a dominant seventh', () => {
    const found = MODES.flatMap((mode) => namesIn(mode, ALL_TWELVE));
    expect(found.filter((name) => name.includes('7'))).toEqual([]);
  });
});

describe('a third in doubt', () => {
  const tonic = triadClass(0, false);
  const heard = (degree: number) => [{ degree, crotchets: 1, accent: 2 as const }];
  test.each([
    ['the bar sounds it', 'major', heard(4), ALL_TWELVE, false],
    ['the bar sounds the other', 'major', heard(3), ALL_TWELVE, true],
    ['the tune wavers', 'mixolydian', heard(7), ALL_TWELVE, true],
    ['the tune wavers, this bar does not', 'mixolydian', heard(4), ALL_TWELVE, false],
    ['the tune has only this one', 'mixolydian', heard(7), without(3), false],
    ['the scale is gapped', 'mixolydian', heard(7), without(3, 4), true],
  ] as const)('%s', (_, mode, notes, sounding, doubtful) => {
    expect(thirdIsDoubtful(tonic, mode, notes, sounding)).toBe(doubtful);
  });
});

describe('modal tunes', () => {
  test('D Mixolydian: the flat seventh gets ♭VII, never V', () => {
    const score = tuneOf('D', 'mixolydian', [
      'D4 F#4 A4 D4 F#4 A4 F#4 D4',
      'C4 E4 G4 C4 E4 G4 E4 C4',
      'D4 F#4 A4 D4 F#4 A4 F#4 D4',
      'C4 E4 G4 E4 D4 F#4 A4 D4',
    ]);
    const names = chordPlanOf(score).map((c) => `${c.bar}:${formatChord(c.chord)}`);
    expect(names).toEqual(['0:D', '1:C', '2:D', '3:C', '3:D']);
  });
  test('a tune without a third in it gets bare fifths on its tonic', () => {
    const score = tuneOf('A', 'dorian', ['A4 E4 A4 E5 D5 E5 A5 E5', 'A4 E4 A4 E5 D5 B4 A4 A4']);
    expect(new Set(chordPlanOf(score).map((c) => formatChord(c.chord)))).toEqual(new Set(['A5']));
  });
});
