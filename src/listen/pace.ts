import type { HeardNote } from './hear.ts';

/** Quavers are looked for between these, seconds. Common practice: reels at 120 minims and airs lie inside. */
const SHORTEST = 0.095;
const LONGEST = 0.5;
/** Steps of the search, as a ratio, and the width within which lengths count together. */
const STEP = 1.01;
const WIDTH = 0.045;

/**
 * About how long does the running note last?
 *
 * The length that most pairs of neighbouring notes agree on: a pair, so that swing cancels out.
 * @returns seconds; null with too few notes
 */
export const paceOf = (notes: readonly HeardNote[]): number | null => {
  const starts = notes.filter((n) => n.end - n.start > 0.07).map((n) => n.start);
  const pairs = starts.slice(2).flatMap((t, i) => {
    const half = (t - (starts[i] as number)) / 2;
    return half > SHORTEST && half < LONGEST ? [half] : [];
  });
  if (pairs.length < 4) return null;
  let [best, most] = [0, 0];
  for (let p = SHORTEST; p < LONGEST; p *= STEP) {
    const count = pairs.reduce((sum, x) => sum + Math.exp(-((Math.log(x / p) / WIDTH) ** 2)), 0);
    if (count > most) [best, most] = [p, count];
  }
  return best;
};
