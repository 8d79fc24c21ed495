import { asWholeNotes, rational, type WholeNotes, wholeNotes } from '../core/index.ts';

/** What an `M:` says. A `free` metre has no bar length. */
export type Metre =
  | { readonly kind: 'free' }
  | {
      readonly kind: 'measured';
      /** Upper number; for (2+3+2)/8 their sum, with `groups`. */
      readonly count: number;
      /** Lower number. */
      readonly unit: number;
      /** Printed as C or ¢ instead of numbers. */
      readonly symbol?: 'common' | 'cut';
      readonly groups?: readonly number[];
    };

/** The metre count/unit. @throws RangeError unless both are whole and positive */
export const metre = (count: number, unit: number): Metre => {
  if (!Number.isInteger(count) || !Number.isInteger(unit) || count < 1 || unit < 1) {
    throw new RangeError(`metre(${count}, ${unit}): needs whole numbers from 1`);
  }
  return { kind: 'measured', count, unit };
};

/** How long a full bar is; null in free metre. */
export const barLengthOf = (m: Metre): WholeNotes | null =>
  m.kind === 'free' ? null : wholeNotes(m.count, m.unit);

/** Whether beats divide in three: 6/8, 9/8, 12/8, also 6/4 and 6/16. 3/8 counts as three beats of its own. */
export const isCompound = (m: Metre): boolean =>
  m.kind === 'measured' && m.count > 3 && m.count % 3 === 0 && m.unit >= 4;

/**
 * The notated beat: the dotted note in compound metres, else the lower number's note.
 *
 * A dance may be felt otherwise (a reel in minims): see `danceOf`.
 */
export const notatedBeatOf = (m: Metre): WholeNotes => {
  if (m.kind === 'free') return wholeNotes(1, 4);
  return isCompound(m) ? asWholeNotes(rational(3, m.unit)) : wholeNotes(1, m.unit);
};

/** "6/8", "C", "C|", "none": as in ABC. */
export const formatMetre = (m: Metre): string => {
  if (m.kind === 'free') return 'none';
  if (m.symbol !== undefined) return m.symbol === 'common' ? 'C' : 'C|';
  return m.groups === undefined ? `${m.count}/${m.unit}` : `(${m.groups.join('+')})/${m.unit}`;
};
