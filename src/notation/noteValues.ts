import {
  asWholeNotes,
  compare,
  divide,
  multiply,
  rational,
  subtract,
  type WholeNotes,
} from '../core/index.ts';
import type { TupletPlace } from '../score/index.ts';

/** Names of written note values, longest first. Source: MusicXML 4.0, simple type note-type-value. */
export const NOTE_VALUES = [
  'long',
  'breve',
  'whole',
  'half',
  'quarter',
  'eighth',
  '16th',
  '32nd',
  '64th',
  '128th',
  '256th',
  '512th',
  '1024th',
] as const;
/** A written note value without its dots. */
export type NoteValue = (typeof NOTE_VALUES)[number];
/** Augmentation dots on a note. */
export type Dots = 0 | 1 | 2 | 3;

/** So many notes in the time of so many. */
export interface TimeRatio {
  readonly actual: number;
  readonly normal: number;
}

/** One note or rest sign on paper. */
export interface WrittenValue {
  readonly value: NoteValue;
  readonly dots: Dots;
  /** How long it lasts as played, its ratio counted in. */
  readonly length: WholeNotes;
  /** The tuplet ratio that it stands in, its event's own tuplet included; null outside tuplets. */
  readonly ratio: TimeRatio | null;
}

/** A long is four whole notes; each value below is half the one before. */
const LONGEST = 4;
const DOT_FACTORS = [rational(1), rational(3, 2), rational(7, 4), rational(15, 8)] as const;

/** Undotted length of a written value. */
export const lengthOfValue = (value: NoteValue): WholeNotes =>
  asWholeNotes(rational(LONGEST, 2 ** NOTE_VALUES.indexOf(value)));

/** How many flags or beams a value has: none down to the crotchet, one on a quaver, two on a semiquaver. */
export const flagsOf = (value: NoteValue): number =>
  Math.max(0, NOTE_VALUES.indexOf(value) - NOTE_VALUES.indexOf('quarter'));

interface Candidate {
  readonly value: NoteValue;
  readonly dots: Dots;
  readonly length: WholeNotes;
}

/** Every value with every number of dots, longest first. */
const CANDIDATES: readonly Candidate[] = NOTE_VALUES.flatMap((value) =>
  DOT_FACTORS.map((factor, dots) => ({
    value,
    dots: dots as Dots,
    length: asWholeNotes(multiply(lengthOfValue(value), factor)),
  })),
).sort((a, b) => compare(b.length, a.length));

const SHORTEST = lengthOfValue('1024th');

const oddPartOf = (n: number): number => {
  let odd = n;
  while (odd % 2 === 0) odd /= 2;
  return odd;
};

const powerOfTwoBelow = (n: number): number => 2 ** Math.floor(Math.log2(n));

const ratioOf = (tuplet: TimeRatio | null, odd: number): TimeRatio | null => {
  const actual = (tuplet?.actual ?? 1) * odd;
  const normal = (tuplet?.normal ?? 1) * powerOfTwoBelow(odd);
  return actual === 1 && normal === 1 ? null : { actual, normal };
};

/**
 * Answers "with which notes, tied together, is this length written?"
 *
 * One value with up to three dots where that is enough; else the longest that fits first, then the rest (5/8 of a
 * whole note: a minim and a quaver). A length that no halving reaches (a third of a crotchet outside a tuplet) is
 * written as a tuplet note of its own, so that the answer always lasts exactly as long as was asked.
 * @param length - played length, above zero
 * @param tuplet - the tuplet that the event stands in: written length = length × actual ÷ normal
 * @returns at least one value, in the order of playing; their lengths add up to `length`
 * @throws RangeError when `length` is not above zero
 * @example noteValuesOf(wholeNotes(3, 8), null) // one crotchet with one dot
 */
export const noteValuesOf = (
  length: WholeNotes,
  tuplet: TimeRatio | TupletPlace | null,
): readonly WrittenValue[] => {
  if (length.num <= 0) throw new RangeError(`noteValuesOf(${length.num}/${length.den}): must be above 0`);
  const own = tuplet === null ? null : { actual: tuplet.actual, normal: tuplet.normal };
  const inTuplet = own === null ? length : multiply(length, rational(own.actual, own.normal));
  const ratio = ratioOf(own, oddPartOf(inTuplet.den));
  const factor = ratio === null ? rational(1) : rational(ratio.normal, ratio.actual);
  const values: WrittenValue[] = [];
  let rest = divide(length, factor);
  for (let at = 0; rest.num > 0; ) {
    const candidate = CANDIDATES[at];
    if (candidate === undefined) {
      values.push(belowShortest(multiply(rest, factor)));
      break;
    }
    if (compare(candidate.length, rest) > 0 || wouldLeaveCrumb(candidate, subtract(rest, candidate.length)))
      at += 1;
    else {
      const { value, dots } = candidate;
      values.push({ value, dots, length: asWholeNotes(multiply(candidate.length, factor)), ratio });
      rest = subtract(rest, candidate.length);
    }
  }
  return values;
};

/** Dots are for a length that they complete: with two or more of them nothing may be left over. */
const wouldLeaveCrumb = (candidate: Candidate, left: { readonly num: number }): boolean =>
  candidate.dots > 1 && left.num > 0;

/** What is shorter than the shortest sign is written as that sign in a ratio that makes it exact. */
const belowShortest = (played: { readonly num: number; readonly den: number }): WrittenValue => {
  const share = divide(played, SHORTEST);
  return {
    value: '1024th',
    dots: 0,
    length: asWholeNotes(played),
    ratio: { actual: share.den, normal: share.num },
  };
};
