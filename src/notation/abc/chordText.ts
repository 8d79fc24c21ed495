import { type Chord, readChord } from '../../music/index.ts';

/**
 * A chord symbol by the spellings that tune books use beside the standard's: "A7/c+" and "Gm/b-" name a sharp or flat
 * bass, "Gd" is a diminished chord.
 */
export const chordOf = (text: string): Chord | null =>
  readChord(text) ??
  readChord(
    text.replace(
      /\/([A-Ga-g])([+-])$/,
      (_, note: string, sign: string) => `/${note}${sign === '+' ? '#' : 'b'}`,
    ),
  ) ??
  readChord(text.replace(/^([A-G][#b]?)d$/, '$1dim'));
