import { type WholeNotes, wholeNotes } from '../../core/index.ts';
import type { Metre } from '../../music/index.ts';

/** Largest upper number and the lower numbers that a metre may have. Ours. */
const LARGEST_COUNT = 64;
const UNITS: ReadonlySet<number> = new Set([1, 2, 4, 8, 16, 32, 64]);

const measured = (groups: readonly number[], unit: number): Metre | null => {
  const count = groups.reduce((total, n) => total + n, 0);
  if (!UNITS.has(unit) || !(count >= 1 && count <= LARGEST_COUNT) || groups.includes(0)) return null;
  return groups.length > 1 ? { kind: 'measured', count, unit, groups } : { kind: 'measured', count, unit };
};

/**
 * Reads the value of an `M:` field: "6/8", "C", "C|", "(2+3+2)/8", "none".
 * @returns the metre, or null when it is none
 * @see Source: ABC standard 2.1, section 3.1.6 "M: - meter"
 */
export const readMetre = (value: string): Metre | null => {
  const text = value.replaceAll(/\s+/g, '');
  if (/^none$/i.test(text) || text === '') return { kind: 'free' };
  if (text === 'C' || text === 'c') return { kind: 'measured', count: 4, unit: 4, symbol: 'common' };
  if (text === 'C|' || text === 'c|') return { kind: 'measured', count: 2, unit: 2, symbol: 'cut' };
  const match = /^\(?(\d{1,4}(?:\+\d{1,4}){0,15})\)?\/(\d{1,4})$/.exec(text);
  if (match === null) return null;
  return measured((match[1] ?? '').split('+').map(Number), Number(match[2]));
};

/**
 * The unit note length where no `L:` says it: a sixteenth in metres shorter than 3/4, else an eighth.
 * @see Source: ABC standard 2.1, section 3.1.7 "L: - unit note length"
 */
export const defaultUnitOf = (metre: Metre): WholeNotes =>
  metre.kind === 'measured' && metre.count / metre.unit < 0.75 ? wholeNotes(1, 16) : wholeNotes(1, 8);

const FINEST_UNIT = 512;

/**
 * Reads the value of an `L:` field.
 * @returns the unit note length, or null when it is none: it must be 1 over a power of two up to 512
 */
export const readUnit = (value: string): WholeNotes | null => {
  const match = /^\s*1\s*(?:\/\s*(\d{1,4}))?\s*$/.exec(value);
  if (match === null) return null;
  const den = Number(match[1] ?? '1');
  return den >= 1 && den <= FINEST_UNIT && (den & (den - 1)) === 0 ? wholeNotes(1, den) : null;
};
