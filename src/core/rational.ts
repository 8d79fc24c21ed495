/** An exact fraction, always in lowest terms with a positive denominator; equal values are structurally equal. */
export interface Rational {
  readonly num: number;
  readonly den: number;
}

const gcd = (a: number, b: number): number => {
  let x = Math.abs(a);
  let y = Math.abs(b);
  while (y !== 0) [x, y] = [y, x % y];
  return x;
};

/**
 * Makes the exact fraction num/den.
 * @param num - numerator, a safe integer
 * @param den - denominator, a safe integer, not 0
 * @throws RangeError when either is no safe integer or den is 0
 * @example rational(6, 8) // 3/4
 */
export const rational = (num: number, den = 1): Rational => {
  if (!Number.isSafeInteger(num) || !Number.isSafeInteger(den) || den === 0) {
    throw new RangeError(`rational(${num}, ${den}): needs two safe integers and a denominator other than 0`);
  }
  const g = gcd(num, den) || 1;
  const sign = den < 0 ? -1 : 1;
  return { num: (sign * num) / g + 0, den: (sign * den) / g };
};

/** The exact zero. */
export const ZERO: Rational = rational(0);

/** a + b, exactly. */
export const add = (a: Rational, b: Rational): Rational =>
  a.den === b.den ? rational(a.num + b.num, a.den) : rational(a.num * b.den + b.num * a.den, a.den * b.den);

/** a − b, exactly. */
export const subtract = (a: Rational, b: Rational): Rational =>
  a.den === b.den ? rational(a.num - b.num, a.den) : rational(a.num * b.den - b.num * a.den, a.den * b.den);

/** a × b, exactly. */
export const multiply = (a: Rational, b: Rational): Rational => rational(a.num * b.num, a.den * b.den);

/**
 * a ÷ b, exactly.
 * @throws RangeError when b is zero
 */
export const divide = (a: Rational, b: Rational): Rational => rational(a.num * b.den, a.den * b.num);

/** Negative when a < b, 0 when equal, positive when a > b: fit for sorting. */
export const compare = (a: Rational, b: Rational): number => a.num * b.den - b.num * a.den;

/** Whether a and b are the same value. */
export const equals = (a: Rational, b: Rational): boolean => a.num === b.num && a.den === b.den;

/** Whether a < b. */
export const isLess = (a: Rational, b: Rational): boolean => compare(a, b) < 0;

/** The smaller of the two. */
export const minOf = (a: Rational, b: Rational): Rational => (compare(a, b) <= 0 ? a : b);

/** The exact sum; zero for an empty list. */
export const sum = (values: Iterable<Rational>): Rational => {
  let total = ZERO;
  for (const value of values) total = add(total, value);
  return total;
};

/** Whether a is a whole multiple of b (zero is one). */
export const isMultipleOf = (a: Rational, b: Rational): boolean => divide(a, b).den === 1;

/** The largest whole number that is not above a. */
export const floorOf = (a: Rational): number => Math.floor(a.num / a.den);

/** a modulo b, with the sign of b: where in a cycle of length b does a fall? */
export const modulo = (a: Rational, b: Rational): Rational =>
  subtract(a, multiply(b, rational(floorOf(divide(a, b)))));

/** The nearest floating-point number; only for drawing, sound and display. */
export const toNumber = (a: Rational): number => a.num / a.den;

/** "3/8", or "2" for a whole number. */
export const formatRational = (a: Rational): string => (a.den === 1 ? `${a.num}` : `${a.num}/${a.den}`);

/**
 * Reads "3/8" or "2".
 * @throws RangeError when the text is no fraction (a caller's bug: user input goes through a reader with diagnostics)
 */
export const parseRational = (text: string): Rational => {
  const match = /^(-?\d+)(?:\/(\d+))?$/.exec(text);
  if (match === null) throw new RangeError(`parseRational(${JSON.stringify(text)}): expected "3/8" or "2"`);
  return rational(Number(match[1]), Number(match[2] ?? '1'));
};
