import { asWholeNotes, rational, type WholeNotes } from '../../../core/index.ts';
import { type Alter, type Pitch, STEPS, type Step } from '../../../music/index.ts';
import type { XmlElement } from '../../xml.ts';
import { numberAt, textAt } from '../../xmlTree.ts';

/** Decimals that a duration or a divisions count may have: more is noise. Ours. */
const DECIMALS = 6;
/** Most divisions of a crotchet, and most of them in a note, that are taken for meant. Ours: a semibreve at the finest common resolution has 4 × 40,320. */
const MOST_DIVISIONS = 1_000_000;

/** A letter of the scale; null for other text. */
export const stepOf = (text: string | null): Step | null => STEPS.find((s) => s === text) ?? null;

/** Whole semitones from two flats to two sharps; null beyond. A quarter tone is read as the nearest. */
export const alterOf = (semitones: number | null): Alter | null => {
  const whole = Math.round(semitones ?? 0);
  return Math.abs(whole) <= 2 ? ((whole === 0 ? 0 : whole) as Alter) : null;
};

/** The pitch of a note element; null where it has none that can be written. */
export const pitchOf = (note: XmlElement): Pitch | null => {
  const step = stepOf(textAt(note, 'pitch', 'step'));
  const alter = alterOf(numberAt(note, 'pitch', 'alter'));
  const octave = numberAt(note, 'pitch', 'octave');
  if (step === null || alter === null || octave === null || !Number.isInteger(octave)) return null;
  return octave < 0 || octave > 9 ? null : { step, alter, octave };
};

/**
 * A number of divisions as a part of a whole note.
 * @param amount - not negative
 * @param divisions - of a crotchet
 * @returns null where either is no sensible number
 */
export const lengthOf = (amount: number | null, divisions: number): WholeNotes | null => {
  if (amount === null || amount < 0 || amount > MOST_DIVISIONS) return null;
  if (Number.isInteger(amount) && Number.isInteger(divisions))
    return asWholeNotes(rational(amount, divisions * 4));
  const scale = 10 ** DECIMALS;
  return asWholeNotes(rational(Math.round(amount * scale), Math.round(divisions * 4 * scale)));
};

/** A number of divisions of a crotchet that can be counted with; null for others. */
export const divisionsFrom = (count: number | null): number | null =>
  count !== null && count > 0 && count <= MOST_DIVISIONS ? count : null;
