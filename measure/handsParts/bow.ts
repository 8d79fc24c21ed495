import { bowedBarsOf, bowRepairsOf, withBowRepairs, withSlurs } from '../../src/fiddle/index.ts';
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

/** What repairs and styles of slurring make of full bars, in tunes whose bars have an even number of beats and all others. */
export interface StyleTally {
  readonly repaired: BowTally;
  readonly separate: BowTally;
  readonly onTheBeat: BowTally;
  readonly hooked: BowTally;
  readonly written: BowTally;
  repairs: number;
  /** Parts that open with a stroke after slurring into the beat, and those that open down. */
  partStarts: number;
  partStartsDown: number;
}

/** An empty tally. */
export const newStyleTally = (): StyleTally => ({
  repaired: newBowTally(),
  separate: newBowTally(),
  onTheBeat: newBowTally(),
  hooked: newBowTally(),
  written: newBowTally(),
  repairs: 0,
  partStarts: 0,
  partStartsDown: 0,
});

const tallyPartStarts = (score: Score, tally: StyleTally): void => {
  const seen = new Set<string>();
  for (const { part, opens } of bowedBarsOf(score)) {
    if (seen.has(part)) continue;
    seen.add(part);
    if (opens !== 'down' && opens !== 'up') continue;
    tally.partStarts += 1;
    if (opens === 'down') tally.partStartsDown += 1;
  }
};

/** Adds a tune, repaired and slurred in each style, to the tally. */
export const tallyStyles = (score: Score, tally: StyleTally): void => {
  const repairs = bowRepairsOf(score);
  tally.repairs += repairs.length;
  tallyBow(score, tally.written);
  tallyBow(withBowRepairs(score, repairs), tally.repaired);
  for (const style of ['separate', 'onTheBeat', 'hooked'] as const)
    tallyBow(withSlurs(score, style), tally[style]);
  tallyPartStarts(withSlurs(score, 'intoTheBeat'), tally);
};
