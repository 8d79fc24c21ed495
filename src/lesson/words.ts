import { formatRational, multiply, type Rational, rational } from '../core/index.ts';

/** Which names of note values a reader knows. */
export type Words = 'british' | 'us';

const BRITISH: Readonly<Record<string, string>> = {
  '1': 'semibreve',
  '1/2': 'minim',
  '1/4': 'crotchet',
  '1/8': 'quaver',
  '1/16': 'semiquaver',
  '1/32': 'demisemiquaver',
};
const US: Readonly<Record<string, string>> = {
  '1': 'whole note',
  '1/2': 'half note',
  '1/4': 'quarter note',
  '1/8': 'eighth note',
  '1/16': 'sixteenth note',
  '1/32': 'thirty-second note',
};

/**
 * The name of a note value.
 * @param length - plain or dotted, whole note to demisemiquaver
 * @returns "dotted crotchet"; other lengths as a fraction of a whole note
 */
export const noteValueName = (length: Rational, words: Words): string => {
  const names = words === 'british' ? BRITISH : US;
  const plain = names[formatRational(length)];
  if (plain !== undefined) return plain;
  const undotted = length.num === 3 ? names[length.den === 2 ? '1' : `1/${length.den / 2}`] : undefined;
  return undotted === undefined ? `${formatRational(length)} of a whole note` : `dotted ${undotted}`;
};

/** Lengths of bars are counted in crotchets or shorter notes. */
const LONGEST_COUNTED = 4;

/** A length counted in the note that measures it and one that it is compared with: "7 quavers" beside "8 quavers". */
export const lengthBeside = (length: Rational, other: Rational, words: Words): string => {
  const den = Math.max(length.den, other.den, LONGEST_COUNTED);
  const count = formatRational(multiply(length, rational(den)));
  return `${count} ${noteValueName(rational(1, den), words)}${count === '1' ? '' : 's'}`;
};

/** With a capital letter at the beginning. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A label as it stands inside a sentence: "bar 3" of "Bar 3". */
export const inSentence = (label: string): string => label.charAt(0).toLowerCase() + label.slice(1);

/** The word for a bar. */
export const barWord = (words: Words): string => (words === 'british' ? 'bar' : 'measure');

/** "bar 4", "bars 4 and 6", "bars 1, 5 and 9". */
export const listOfBars = (numbers: readonly string[], words: Words): string =>
  `${barWord(words)}${numbers.length === 1 ? '' : 's'} ${joined(numbers)}`;

/** "a", "a and b", "a, b and c". */
export const joined = (items: readonly string[]): string =>
  items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/**
 * A day as a reader says it.
 * @param date - "2026-11-25"
 * @returns "25 November 2026", in US words "November 25, 2026"; a text of another form as it is
 */
export const dateWords = (date: string, words: Words): string => {
  const [, year, month = '', day] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date) ?? [];
  const name = MONTHS[Number(month) - 1];
  if (name === undefined) return date;
  return words === 'british' ? `${Number(day)} ${name} ${year}` : `${name} ${Number(day)}, ${year}`;
};
