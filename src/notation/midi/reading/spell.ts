import {
  type Alter,
  accidentalsOf,
  chromaOf,
  type Key,
  keyOfFifths,
  type Mode,
  NO_KEY,
  type Pitch,
  type PitchClass,
  STEPS,
  scaleOf,
} from '../../../music/index.ts';

/** Modes of the tradition, the commonest first. Common practice. */
const LIKELY_MODES: readonly Mode[] = ['major', 'mixolydian', 'dorian', 'minor'];
/** Signatures that are tried, the fewest accidentals first. Common practice: dance tunes lie between three flats and four sharps. */
const LIKELY_FIFTHS = [1, 2, 0, 3, -1, -2, 4, -3];

/**
 * The key that a tune's notes speak for: the signature with the fewest notes outside it, the keynote its last note.
 * @param midis - MIDI numbers in order
 */
export const keyByNotes = (midis: readonly number[]): Key => {
  const outside = (fifths: number): number => {
    const accidentals = accidentalsOf(fifths);
    const inside = new Set(STEPS.map((step) => chromaOf({ step, alter: accidentals[step] })));
    return midis.filter((midi) => !inside.has(midi % 12)).length;
  };
  const [fifths = 0] = LIKELY_FIFTHS.toSorted((a, b) => outside(a) - outside(b));
  return keyEndingOn(fifths, midis.at(-1) ?? 0, 'major');
};

/**
 * The key of a signature, by the note that the tune ends on: MIDI knows major and minor alone, the tradition two more.
 * @param fifths - sharps, flats below zero: −7…7
 * @param last - MIDI number
 * @param said - the mode that the file names, where the last note speaks for none
 */
export const keyEndingOn = (fifths: number, last: number, said: Mode): Key => {
  const keys = LIKELY_MODES.map((mode) => keyOfFifths(fifths, mode));
  const found = keys.find((key) => key?.tonic != null && chromaOf(key.tonic) === last % 12);
  return found ?? keyOfFifths(fifths, said) ?? NO_KEY;
};

/** A MIDI number as it is written in a key: notes outside the scale as sharps in sharp keys, as flats in flat ones. */
export const spelled = (midi: number, key: Key): Pitch => {
  const scale = scaleOf(key);
  const chroma = midi % 12;
  const sharps = scale.filter((n) => n.alter < 0).length === 0;
  const wanted: readonly Alter[] = sharps ? [0, 1, -1] : [0, -1, 1];
  const note: PitchClass = scale.find((n) => chromaOf(n) === chroma) ??
    wanted
      .flatMap((alter) => STEPS.map((step): PitchClass => ({ step, alter })))
      .find((n) => chromaOf(n) === chroma) ?? { step: 'C', alter: 0 };
  const natural = chromaOf({ step: note.step, alter: 0 });
  return { ...note, octave: (midi - natural - note.alter) / 12 - 1 };
};
