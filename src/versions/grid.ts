import type { WholeNotes } from '../core/index.ts';
import { danceOfScore, runningUnitOf } from '../fiddle/index.ts';
import { barLengthOf, isCompound, type Metre } from '../music/index.ts';
import type { Score } from '../score/index.ts';
import { inTicks, type LineBar } from './line.ts';

/**
 * How a bar's time is counted when notes are chosen; all in ticks.
 *
 * `running` is one place of the running notes; `pulse` the shortest accented step (crotchet in a reel, the beat in a
 * jig); `beat` the accent that a foot taps; `group` the cell for which a figure of the trade is chosen.
 */
export interface Grid {
  readonly running: number;
  readonly pulse: number;
  readonly beat: number;
  readonly group: number;
  readonly kind: 'fours' | 'threes' | 'pairs';
}

/** The running note of 2/4 as books print it: polkas and reels in semiquavers; a quaver there is what a crotchet is in 4/4. */
const TWO_FOUR_RUNNING = 16;

/**
 * How 2/4 is counted: by books in semiquavers whatever runs, so that a polka in quavers counts as simple; or as it runs,
 * so that such a polka is half a reel and can be made sparser.
 */
export type TwoFour = 'byBooks' | 'asItRuns';

/**
 * The grid of a metre for a tune with that running note.
 * @param ticks - ticks in a whole note, a multiple of 64
 */
const gridOf = (
  metre: Metre,
  runningNote: WholeNotes,
  given: { readonly ticks: number; readonly twoFour: TwoFour },
): Grid => {
  const { ticks } = given;
  const bar = barLengthOf(metre);
  if (metre.kind === 'measured' && (isCompound(metre) || (metre.count === 3 && metre.unit >= 8))) {
    const running = ticks / metre.unit;
    return { running, pulse: 3 * running, beat: 3 * running, group: 3 * running, kind: 'threes' };
  }
  const asBooks =
    given.twoFour === 'byBooks' && metre.kind === 'measured' && metre.count === 2 && metre.unit === 4;
  const shortest = asBooks
    ? Math.min(ticks / TWO_FOUR_RUNNING, inTicks(runningNote, ticks))
    : inTicks(runningNote, ticks);
  const running = Math.max(shortest, ticks / 16);
  const length = bar === null ? null : inTicks(bar, ticks);
  const fours = length !== null && length % (4 * running) === 0;
  return fours
    ? { running, pulse: 2 * running, beat: 4 * running, group: 4 * running, kind: 'fours' }
    : { running, pulse: 2 * running, beat: 2 * running, group: 2 * running, kind: 'pairs' };
};

/**
 * The grid of every bar of a tune, by metre and running note.
 * @param ticks - ticks in a whole note, a multiple of 64
 */
export const gridsOf = (score: Score, ticks: number, twoFour: TwoFour): ((bar: LineBar) => Grid) => {
  const runningNote = runningUnitOf(danceOfScore(score), score.metre);
  const seen = new Map<string, Grid>();
  return (bar) => {
    const { metre } = bar.bar;
    const key = metre.kind === 'free' ? 'free' : `${metre.count}/${metre.unit}`;
    const known = seen.get(key);
    if (known !== undefined) return known;
    const grid = gridOf(metre, runningNote, { ticks, twoFour });
    seen.set(key, grid);
    return grid;
  };
};
