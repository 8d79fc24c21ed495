import { describe, expect, test } from 'vitest';
import { formatRational } from '../core/index.ts';
import { formatChord } from '../music/index.ts';
import type { Score } from '../score/index.ts';
import { chordPlanOf, withChords } from './index.ts';
import { tuneOf } from './testing/tuneOf.ts';

const spoken = (score: Score): string =>
  chordPlanOf(score)
    .map((c) => `${c.bar}@${formatRational(c.onset)}+${formatRational(c.length)} ${formatChord(c.chord)}`)
    .join(', ');

const TONIC_BAR = 'D4 F#4 A4 F#4 D4 F#4 A4 F#4';
const DOMINANT_BAR = 'E4 A4 C#5 A4 E4 A4 C#5 A4';

describe('written chords', () => {
  test('hold until the next one, also through bars without', () => {
    const score = tuneOf('D', 'major', [
      'G:D4 F#4 A4 F#4 Em:D4 F#4 A4 F#4',
      TONIC_BAR,
      `A7:${DOMINANT_BAR}`,
      TONIC_BAR,
    ]);
    expect(spoken(score)).toBe('0@0+1/2 G, 0@1/2+1/2 Em, 1@0+1 Em, 2@0+1 A7, 3@0+1 A7');
    expect(chordPlanOf(score).every((c) => c.source === 'written')).toBe(true);
    expect(withChords(score, chordPlanOf(score))).toEqual(score);
  });
  test('start where they start: full bars before them are found, a pick-up stays bare', () => {
    const score = tuneOf('D', 'major', ['A4 G4', TONIC_BAR, `A:${DOMINANT_BAR}`, `${TONIC_BAR}`]);
    expect(spoken(score)).toBe('1@0+1 D, 2@0+1 A, 3@0+1 A');
    expect(chordPlanOf(score).map((c) => c.source)).toEqual(['inferred', 'written', 'written']);
  });
});

describe('found chords', () => {
  test('follow the arpeggios of the melody, one a bar', () => {
    const score = tuneOf('D', 'major', [TONIC_BAR, DOMINANT_BAR, 'G4 B4 D5 B4 G4 B4 D5 B4', TONIC_BAR]);
    expect(spoken(score)).toBe('0@0+1 D, 1@0+1 A, 2@0+1 G, 3@0+1 D');
  });
  test('are written once where they change, and told again at the start of a part', () => {
    const score = tuneOf('D', 'major', [TONIC_BAR, TONIC_BAR, DOMINANT_BAR, TONIC_BAR]);
    const [part] = withChords(score, chordPlanOf(score)).parts;
    expect(part?.bars.map((b) => b.chords.map((c) => c.text).join())).toEqual(['D', '', 'A', 'D']);
  });
  test('a tune without a note in it has none', () => {
    const score = tuneOf('D', 'major', [TONIC_BAR]);
    expect(chordPlanOf({ ...score, parts: [] })).toEqual([]);
  });
});
