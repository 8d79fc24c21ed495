import { type MidiNumber, midiNumber } from '../core/index.ts';

/** The seven note letters in order from C, as octaves are counted. */
export const STEPS = ['C', 'D', 'E', 'F', 'G', 'A', 'B'] as const;
/** A note letter. */
export type Step = (typeof STEPS)[number];
/** Sharps (positive) or flats (negative) on a letter. */
export type Alter = -2 | -1 | 0 | 1 | 2;

/** A note name without octave: F♯ is `{step: 'F', alter: 1}`. */
export interface PitchClass {
  readonly step: Step;
  readonly alter: Alter;
}

/** A spelled pitch; octave 4 begins at middle C, so the fiddle's strings are G3 D4 A4 E5. */
export interface Pitch extends PitchClass {
  readonly octave: number;
}

const SEMITONES: Readonly<Record<Step, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const SIGNS: Readonly<Record<Alter, string>> = { [-2]: 'bb', [-1]: 'b', 0: '', 1: '#', 2: '##' };

/** Index of a letter in `STEPS`. */
export const stepIndex = (step: Step): number => STEPS.indexOf(step);

/** Semitones above C, 0…11. */
export const chromaOf = (note: PitchClass): number => (SEMITONES[note.step] + note.alter + 12) % 12;

/** The MIDI note number: C4 is 60, A4 is 69. Source: MIDI 1.0, note 60 is middle C. */
export const midiOf = (pitch: Pitch): MidiNumber =>
  midiNumber(12 * (pitch.octave + 1) + SEMITONES[pitch.step] + pitch.alter);

/** Place on the staff in steps, C0 = 0: what decides line and space, and intervals by number. */
export const staffStepOf = (pitch: Pitch): number => 7 * pitch.octave + stepIndex(pitch.step);

/** Whether two pitches are the same letter, accidental and octave. */
export const isSamePitch = (a: Pitch, b: Pitch): boolean =>
  a.step === b.step && a.alter === b.alter && a.octave === b.octave;

/** "F#4", "Bb3": ASCII, for data and messages. */
export const formatPitch = (pitch: Pitch): string => `${formatPitchClass(pitch)}${pitch.octave}`;

/** "F#", "Bb". */
export const formatPitchClass = (note: PitchClass): string => `${note.step}${SIGNS[note.alter]}`;

/** "F♯", "B♭": for people. */
export const printedName = (note: PitchClass): string =>
  `${note.step}${SIGNS[note.alter].replaceAll('#', '♯').replaceAll('b', '♭')}`;

/**
 * Reads "F#", "Bb", "C".
 * @throws RangeError when the text is no note name (a caller's bug)
 */
export const pitchClass = (text: string): PitchClass => {
  const match = /^([A-G])(##|bb|#|b)?$/.exec(text);
  if (match === null)
    throw new RangeError(`pitchClass(${JSON.stringify(text)}): expected a name like "F#" or "Bb"`);
  const sign = match[2] ?? '';
  const alter = (sign.startsWith('#') ? sign.length : -sign.length) + 0;
  return { step: match[1] as Step, alter: alter as Alter };
};

/**
 * Reads "F#4".
 * @throws RangeError when the text is no pitch (a caller's bug)
 */
export const pitch = (text: string): Pitch => {
  const match = /^(.*?)(-?\d+)$/.exec(text);
  if (match === null) throw new RangeError(`pitch(${JSON.stringify(text)}): expected a pitch like "F#4"`);
  return { ...pitchClass(match[1] ?? ''), octave: Number(match[2]) };
};

/** The pitch on that staff place with that accidental. */
export const pitchAtStaffStep = (staffStep: number, alter: Alter): Pitch => {
  const octave = Math.floor(staffStep / 7);
  const step = STEPS[staffStep - 7 * octave];
  if (step === undefined) throw new RangeError(`pitchAtStaffStep(${staffStep}): needs a whole number`);
  return { step, alter, octave };
};
