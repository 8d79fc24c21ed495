import { multiply, type Rational, rational, toNumber, type WholeNotes } from '../../core/index.ts';
import type { Score } from '../../score/index.ts';
import { barsOf } from '../../score/index.ts';
import { writtenSignsOf } from '../writtenSigns.ts';

/** Above this a file gains nothing but large numbers: lengths of such a tune are written as decimals. Ours. */
const MOST_DIVISIONS = 1_000_000;
/** Divisions of a tune whose lengths have no sensible common part: 2⁵ × 3² × 5 × 7. Ours. */
const FALLBACK_DIVISIONS = 10_080;
/** Decimals of a duration that is no whole number of divisions. Ours. */
const DECIMALS = 6;

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/** In crotchets: what MusicXML counts in. */
const inCrotchets = (length: Rational): Rational => multiply(length, rational(4));

/**
 * Answers "how many divisions of a crotchet make every length and every place a whole number?"
 * @returns the least common multiple of all denominators, or a fixed rich number where that would be absurdly large
 */
export const divisionsOf = (scores: readonly Score[]): number => {
  let divisions = 1;
  for (const { bar } of scores.flatMap(barsOf)) {
    const times = [
      ...writtenSignsOf(bar).map((sign) => sign.value.length),
      ...bar.chords.map((chord) => chord.onset),
      ...bar.annotations.map((annotation) => annotation.onset),
    ];
    for (const time of times) {
      const { den } = inCrotchets(time);
      divisions = (divisions / gcd(divisions, den)) * den;
      if (divisions > MOST_DIVISIONS) return FALLBACK_DIVISIONS;
    }
  }
  return divisions;
};

/** A length in divisions, as MusicXML writes it. */
export const inDivisions = (length: WholeNotes, divisions: number): string => {
  const exact = multiply(inCrotchets(length), rational(divisions));
  return exact.den === 1 ? String(exact.num) : toNumber(exact).toFixed(DECIMALS);
};
