/** How swung a recording is. */
export interface Swing {
  /** Long : short of an even-written pair; the middle of all pairs. */
  readonly ratio: number;
  /** Half the distance between the quarters: half of all pairs lie within ± so much of the ratio. */
  readonly spread: number;
  readonly pairs: number;
}

/** Fewer pairs say nothing. */
const LEAST_PAIRS = 8;
/** Ratios outside are slips of listening. */
const RATIOS = [0.5, 4] as const;

/** Notes on quavers: where on the grid, and when. */
export interface Placed {
  /** Whole quavers are on the grid; pairs begin on even ones. */
  readonly at: number;
  readonly time: number;
}

/**
 * Long against short in all pairs of quavers whose three moments (on, off, next on) were all played.
 * @param placed - in order
 * @returns null where there are too few pairs to tell
 */
export const swingOf = (placed: readonly Placed[]): Swing | null => {
  const ratios = placed.flatMap((on, i) => {
    const [off, next] = [placed[i + 1], placed[i + 2]];
    if (off === undefined || next === undefined || on.at % 2 !== 0) return [];
    if (off.at !== on.at + 1 || next.at !== on.at + 2) return [];
    const ratio = (off.time - on.time) / (next.time - off.time);
    return ratio > RATIOS[0] && ratio < RATIOS[1] ? [ratio] : [];
  });
  if (ratios.length < LEAST_PAIRS) return null;
  ratios.sort((a, b) => a - b);
  const quantile = (share: number): number => ratios[Math.floor(share * (ratios.length - 1))] as number;
  return { ratio: quantile(0.5), spread: (quantile(0.75) - quantile(0.25)) / 2, pairs: ratios.length };
};
