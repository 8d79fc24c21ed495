import { parseRational, type Rational, rational } from './rational.ts';

declare const unit: unique symbol;

/** Score time or length as an exact part of a whole note (semibreve): a crotchet is 1/4. */
export type WholeNotes = Rational & { readonly [unit]: 'whole notes' };
/** Time in seconds. */
export type Seconds = number & { readonly [unit]: 's' };
/** Frequency in hertz. */
export type Hertz = number & { readonly [unit]: 'Hz' };
/** Pitch distance in hundredths of an equal-tempered semitone. */
export type Cents = number & { readonly [unit]: 'cent' };
/** MIDI note number, 69 = A4; fractional where a pitch lies between two keys. */
export type MidiNumber = number & { readonly [unit]: 'MIDI' };
/** Level relative to full scale or to another level, in decibels. */
export type Decibels = number & { readonly [unit]: 'dB' };

/** The score time num/den of a whole note. @throws RangeError as `rational` does */
export const wholeNotes = (num: number, den = 1): WholeNotes => rational(num, den) as WholeNotes;

/** A fraction taken as score time. */
export const asWholeNotes = (value: Rational): WholeNotes => value as WholeNotes;

/** Reads "3/8" as score time. @throws RangeError as `parseRational` does */
export const parseWholeNotes = (text: string): WholeNotes => parseRational(text) as WholeNotes;

const finite = (value: number, name: string): number => {
  if (!Number.isFinite(value)) throw new RangeError(`${name}(${value}): not a finite number`);
  return value;
};

/** A number taken as seconds. @throws RangeError when it is not finite */
export const seconds = (value: number): Seconds => finite(value, 'seconds') as Seconds;

/** A number taken as hertz. @throws RangeError when it is not finite and positive */
export const hertz = (value: number): Hertz => {
  if (!(finite(value, 'hertz') > 0)) throw new RangeError(`hertz(${value}): must be above 0`);
  return value as Hertz;
};

/** A number taken as cents. @throws RangeError when it is not finite */
export const cents = (value: number): Cents => finite(value, 'cents') as Cents;

/** A number taken as a MIDI note number. @throws RangeError when it is outside 0…127 */
export const midiNumber = (value: number): MidiNumber => {
  if (!(value >= 0 && value <= 127)) throw new RangeError(`midiNumber(${value}): must be 0 to 127`);
  return value as MidiNumber;
};

/** A number taken as decibels; −Infinity is silence. @throws RangeError when it is NaN */
export const decibels = (value: number): Decibels => {
  if (Number.isNaN(value)) throw new RangeError('decibels(NaN)');
  return value as Decibels;
};

/** Concert A, the pitch of MIDI note 69. Source: MIDI Tuning Standard. */
const CONCERT_A = 440;

/** The frequency of a MIDI note number in equal temperament at A = 440 Hz. Source: MIDI Tuning Standard. */
export const hertzOfMidi = (midi: MidiNumber): Hertz => (CONCERT_A * 2 ** ((midi - 69) / 12)) as Hertz;
