import { bowedBarsOf } from '../../src/fiddle/index.ts';
import type { Score } from '../../src/score/index.ts';

/** Full bars by how they open, and how many have an odd number of strokes. */
export interface BowTally {
  down: number;
  up: number;
  carried: number;
  silent: number;
  odd: number;
}

/** An empty tally. */
export const newBowTally = (): BowTally => ({ down: 0, up: 0, carried: 0, silent: 0, odd: 0 });

/** Adds a tune's bars to the tally. */
export const tallyBow = (score: Score, tally: BowTally): void => {
  for (const bar of bowedBarsOf(score)) {
    tally[bar.opens] += 1;
    if (bar.strokes % 2 === 1) tally.odd += 1;
  }
};

/** Of the bars that open with a stroke, the share that opens down. */
export const downShare = ({ down, up }: BowTally): number => (down + up > 0 ? down / (down + up) : 0);

/** Bars counted. */
export const barsIn = ({ down, up, carried, silent }: BowTally): number => down + up + carried + silent;
