import {
  add,
  asWholeNotes,
  formatRational,
  multiply,
  rational,
  type WholeNotes,
  ZERO,
} from '../../core/index.ts';
import type { Tempo } from '../../score/index.ts';
import { decodeText, encodeQuoted } from './text.ts';

/** Beats a minute that can be meant. Ours. */
const SLOWEST = 1;
const FASTEST = 1000;

/** What a `Q:` says; `outdated` where it leaves its note value to the unit note length. */
export interface ReadTempo {
  readonly tempo: Tempo | null;
  readonly outdated: boolean;
}

const beatOf = (text: string, unit: WholeNotes): WholeNotes | null => {
  const outdated = /^C(\d{0,2})$/i.exec(text);
  if (outdated !== null) {
    const times = Number(outdated[1] || '1');
    return times === 0 ? null : asWholeNotes(multiply(unit, rational(times)));
  }
  let total = ZERO;
  const words = text.split(/\s+/);
  if (words.length > 8) return null;
  for (const word of words) {
    const match = /^(\d{1,3})\/(\d{1,3})$/.exec(word);
    if (match === null || Number(match[1]) === 0 || !isPowerOfTwo(Number(match[2]))) return null;
    total = add(total, rational(Number(match[1]), Number(match[2])));
  }
  return asWholeNotes(total);
};

const isPowerOfTwo = (n: number): boolean => n >= 1 && n <= 64 && (n & (n - 1)) === 0;

/**
 * Reads the value of a `Q:` field: `1/4=120`, `"Allegro" 1/4=120`, `3/8=50 "Slowly"`, `"Andante"`, and the outdated
 * `120` and `C3=120`, which count in unit note lengths.
 * @param unit - the unit note length in force
 * @see Source: ABC standard 2.1, sections 3.1.8 "Q: - tempo" and 10 (outdated syntax; number from memory)
 */
export const readTempo = (value: string, unit: WholeNotes): ReadTempo => {
  const words: string[] = [];
  const numbers = value
    .replaceAll(/"([^"]*)"?/g, (_, text: string) => {
      words.push(decodeText(text).trim());
      return ' ';
    })
    .trim();
  const text = words.filter((w) => w !== '').join(' ');
  if (numbers === '') {
    return { tempo: text === '' ? null : { beat: null, beatsPerMinute: null, words: text }, outdated: false };
  }
  const match = /^(?:([^=]{1,80})=)?\s*(\d{1,4}(?:\.\d{1,3})?)$/.exec(numbers);
  if (match === null) return { tempo: null, outdated: false };
  const left = match[1]?.trim();
  const beat = left === undefined ? unit : beatOf(left, unit);
  const beatsPerMinute = Number(match[2]);
  if (beat === null || !(beatsPerMinute >= SLOWEST && beatsPerMinute <= FASTEST)) {
    return { tempo: null, outdated: false };
  }
  return { tempo: { beat, beatsPerMinute, words: text }, outdated: left === undefined || /^C/i.test(left) };
};

/** The value of a `Q:` field that says this tempo. */
export const writeTempo = (tempo: Tempo): string => {
  const words = tempo.words === '' ? [] : [`"${encodeQuoted(tempo.words)}"`];
  if (tempo.beat === null || tempo.beatsPerMinute === null) return words.join('');
  const beat = tempo.beat.den === 1 ? `${tempo.beat.num}/1` : formatRational(tempo.beat);
  return [...words, `${beat}=${tempo.beatsPerMinute}`].join(' ');
};
