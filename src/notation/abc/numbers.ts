/** A number read from a text, and where reading stopped. */
export interface NumberAt {
  readonly value: number;
  readonly end: number;
}

const MOST_DIGITS = 9;

/** The whole number whose digits begin at `at`, or null; more than nine digits read as Infinity. */
export const wholeNumberAt = (text: string, at: number): NumberAt | null => {
  let end = at;
  let value = 0;
  for (;;) {
    const digit = text.charCodeAt(end) - 48;
    if (!(digit >= 0 && digit <= 9)) break;
    value = end - at < MOST_DIGITS ? value * 10 + digit : Number.POSITIVE_INFINITY;
    end += 1;
  }
  return end === at ? null : { value, end };
};

/** A written length: "3/2" is 3 and 2, "//" is 1 and 4, nothing is 1 and 1. */
export interface LengthAt {
  readonly num: number;
  readonly den: number;
  readonly end: number;
}

/** The length written at `at`. Source: ABC standard 2.1, section 4.3 "Note lengths". */
export const lengthAt = (text: string, at: number): LengthAt => {
  const upper = wholeNumberAt(text, at);
  const num = upper?.value ?? 1;
  let end = upper?.end ?? at;
  let den = 1;
  while (text.charCodeAt(end) === 47) {
    end += 1;
    const lower = wholeNumberAt(text, end);
    den *= lower?.value ?? 2;
    end = lower?.end ?? end;
  }
  return { num, den, end };
};
