import { type Address, addressKey, type Bow, barsOf, type PlacedBar, type Score } from '../score/index.ts';
import { type BarOpening, bowedBarsOf } from './bowedBars.ts';
import type { BowedNote } from './bowing.ts';
import { ornamentsOf } from './ornaments.ts';
import { hasOddBeats } from './runningUnit.ts';

/** A direction worth printing over its note. */
export interface BowMark {
  readonly address: Address;
  readonly bow: Bow;
}

/** Bars that open otherwise than the one before: the first that opens up, and the first that opens down again. */
const turnedBars = (score: Score, bowing: readonly BowedNote[]): ReadonlySet<string> => {
  const turned = new Set<string>();
  let before: BarOpening = 'down';
  for (const { part, bar, opens } of bowedBarsOf(score, bowing)) {
    if (opens !== 'down' && opens !== 'up') continue;
    if (opens !== before) turned.add(`${part}/${bar}`);
    before = opens;
  }
  return turned;
};

const firstNoteKeys = (bars: readonly PlacedBar[], bowing: readonly BowedNote[]): ReadonlySet<string> => {
  const wanted = new Set(bars.map((b) => `${b.part}/${b.index}`));
  const keys = new Set<string>();
  for (const { address } of bowing) {
    if (wanted.delete(`${address.part}/${address.bar}`)) keys.add(addressKey(address));
  }
  return keys;
};

/** The bars with which a written line of music begins. */
const lineStarts = (score: Score): readonly PlacedBar[] =>
  barsOf(score).filter((_, i, all) => i === 0 || all[i - 1]?.bar.lineEnd === true);

/**
 * Which bow directions are worth printing?
 *
 * Where a bar opens otherwise than the one before (not in metres of three, where that is the rule), where the bow is
 * set again, and on trebles; with `atWrittenLines` also where a written line of music begins.
 * @returns strokes that begin, in written order
 * @see Source: common practice
 */
export const bowMarksOf = (
  score: Score,
  bowing: readonly BowedNote[],
  options: { readonly atWrittenLines: boolean },
): readonly BowMark[] => {
  const trebles = new Set(
    ornamentsOf(score)
      .filter((o) => o.kind === 'treble')
      .map((o) => addressKey(o.address)),
  );
  const turned = hasOddBeats(score) ? new Set<string>() : turnedBars(score, bowing);
  const odd = barsOf(score).filter((b) => turned.has(`${b.part}/${b.index}`));
  const opening = firstNoteKeys(options.atWrittenLines ? [...odd, ...lineStarts(score)] : odd, bowing);
  return bowing
    .filter(({ address, begins, retaken }) => {
      const key = addressKey(address);
      return begins && (retaken || trebles.has(key) || opening.has(key));
    })
    .map(({ address, bow }) => ({ address, bow }));
};

/** The direction of every stroke, where it begins. */
export const everyBow = (bowing: readonly BowedNote[]): readonly BowMark[] =>
  bowing.filter(({ begins }) => begins).map(({ address, bow }) => ({ address, bow }));
