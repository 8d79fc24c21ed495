import { type Alter, chromaOf, type PitchClass, printedName, STEPS, type Step, stepIndex } from './pitch.ts';

/** Kinds of chord that a backing can play. `fifth` has no third. */
export type ChordQuality =
  | 'major'
  | 'minor'
  | 'dominantSeventh'
  | 'minorSeventh'
  | 'majorSeventh'
  | 'sixth'
  | 'minorSixth'
  | 'diminished'
  | 'diminishedSeventh'
  | 'augmented'
  | 'suspendedFourth'
  | 'suspendedSecond'
  | 'fifth';

/** A chord as backing players name it. */
export interface Chord {
  readonly root: PitchClass;
  readonly quality: ChordQuality;
  /** Bass note, where it is not the root ("G/B"). */
  readonly bass?: PitchClass;
}

/** Suffixes as written, all accepted spellings; the first of each quality is how we write it. */
const SUFFIXES: readonly (readonly [ChordQuality, readonly string[]])[] = [
  ['major', ['', 'maj', 'M', 'major']],
  ['minor', ['m', 'min', 'mi', '-', 'minor']],
  ['dominantSeventh', ['7', 'dom7', '9']],
  ['minorSeventh', ['m7', 'min7', 'mi7', '-7']],
  ['majorSeventh', ['maj7', 'M7', 'ma7']],
  ['sixth', ['6', 'add6']],
  ['minorSixth', ['m6', 'min6']],
  ['diminished', ['dim', 'o', '°', 'mb5']],
  ['diminishedSeventh', ['dim7', 'o7', '°7']],
  ['augmented', ['aug', '+', 'aug5']],
  ['suspendedFourth', ['sus4', 'sus']],
  ['suspendedSecond', ['sus2']],
  ['fifth', ['5']],
];

/** Semitones above the root of each quality's tones. Common practice. */
const TONES: Readonly<Record<ChordQuality, readonly number[]>> = {
  major: [0, 4, 7],
  minor: [0, 3, 7],
  dominantSeventh: [0, 4, 7, 10],
  minorSeventh: [0, 3, 7, 10],
  majorSeventh: [0, 4, 7, 11],
  sixth: [0, 4, 7, 9],
  minorSixth: [0, 3, 7, 9],
  diminished: [0, 3, 6],
  diminishedSeventh: [0, 3, 6, 9],
  augmented: [0, 4, 8],
  suspendedFourth: [0, 5, 7],
  suspendedSecond: [0, 2, 7],
  fifth: [0, 7],
};

const noteName = (letter: string, sign: string): PitchClass => ({
  step: letter.toUpperCase() as Step,
  alter: (sign === '#' || sign === '♯' ? 1 : sign === 'b' || sign === '♭' ? -1 : 0) as Alter,
});

/**
 * Reads a chord symbol.
 * @returns the chord, or null when the text is no chord we know (an annotation, "N.C.")
 * @example readChord('Bm7') // B, minorSeventh
 * @see Source: ABC standard 2.1, section 4.18 (form of chord symbols); suffixes beyond it: common practice
 */
export const readChord = (text: string): Chord | null => {
  const match = /^\(?([A-G])([#b♯♭]?)([^/()]*)(?:\/([A-Ga-g])([#b♯♭]?))?\)?$/.exec(text.trim());
  if (match === null) return null;
  const suffix = match[3] ?? '';
  const quality = SUFFIXES.find(([, spellings]) => spellings.includes(suffix))?.[0];
  if (quality === undefined) return null;
  const root = noteName(match[1] ?? '', match[2] ?? '');
  return match[4] === undefined
    ? { root, quality }
    : { root, quality, bass: noteName(match[4], match[5] ?? '') };
};

const suffixOf = (quality: ChordQuality): string => SUFFIXES.find(([q]) => q === quality)?.[1][0] ?? '';
const ascii = (note: PitchClass): string => printedName(note).replaceAll('♯', '#').replaceAll('♭', 'b');

/** "Bm7", "G/B", with # and b: as written in ABC. */
export const formatChord = (chord: Chord): string =>
  ascii(chord.root) + suffixOf(chord.quality) + (chord.bass === undefined ? '' : `/${ascii(chord.bass)}`);

/** "F♯m7": for people. */
export const printedChord = (chord: Chord): string =>
  printedName(chord.root) +
  suffixOf(chord.quality) +
  (chord.bass === undefined ? '' : `/${printedName(chord.bass)}`);

/** Semitones above C (0…11) of the chord's tones, root first; a bass note outside the chord comes last. */
export const chordChromas = (chord: Chord): readonly number[] => {
  const root = chromaOf(chord.root);
  const tones = TONES[chord.quality].map((t) => (root + t) % 12);
  if (chord.bass === undefined || tones.includes(chromaOf(chord.bass))) return tones;
  return [...tones, chromaOf(chord.bass)];
};

/** The note so many letters above, spelled to lie that many semitones above: how thirds and fifths of a chord are named. */
export const noteAbove = (root: PitchClass, letters: number, semitones: number): PitchClass => {
  const step = STEPS[(stepIndex(root.step) + letters) % 7] as Step;
  const natural = chromaOf({ step, alter: 0 });
  const wanted = (chromaOf(root) + semitones) % 12;
  const alter = ((wanted - natural + 18) % 12) - 6;
  return { step, alter: Math.max(-2, Math.min(2, alter)) as Alter };
};
