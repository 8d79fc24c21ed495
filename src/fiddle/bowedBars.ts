import { barsOf, type PlacedBar, type Score } from '../score/index.ts';
import { type BowedNote, bowingOf } from './bowing.ts';

/** How a bar begins for the bow: with a stroke down or up, carried over from the bar before, or in silence. */
export type BarOpening = 'down' | 'up' | 'carried' | 'silent';

/** A full bar as the bow sees it. */
export interface BowedBar {
  readonly part: string;
  /** Index among the part's written bars. */
  readonly bar: number;
  /** Printed number; null for the rest of a bar. */
  readonly number: number | null;
  readonly opens: BarOpening;
  /** Strokes that begin in it. */
  readonly strokes: number;
  /** Where it opens up: the bar of its part (index) that turned the bow round; null where that lies before the part. */
  readonly turnedBy: number | null;
}

const openingOf = (placed: PlacedBar, first: BowedNote | undefined): BarOpening => {
  if (placed.bar.events[0]?.kind !== 'note' || first === undefined) return 'silent';
  return first.begins ? first.bow : 'carried';
};

/** The bar that turned the bow: the one before, unless that opened up itself and came out even. */
const turnedBy = (before: BowedBar | undefined, part: string): number | null => {
  if (before === undefined || before.part !== part) return null;
  return before.opens === 'up' && before.strokes % 2 === 0 ? before.turnedBy : before.bar;
};

/**
 * How does the bow come out bar by bar?
 *
 * Shows what an odd number of strokes does instead of hiding it: the next bar opens up, until another odd bar, a rest, a
 * written bow or a new part sets it right.
 * @returns the full bars in written order; pick-ups are left out
 */
export const bowedBarsOf = (
  score: Score,
  bowing: readonly BowedNote[] = bowingOf(score),
): readonly BowedBar[] => {
  const byBar = new Map<string, BowedNote[]>();
  for (const note of bowing) {
    const key = `${note.address.bar}/${note.address.part}`;
    const own = byBar.get(key);
    if (own === undefined) byBar.set(key, [note]);
    else own.push(note);
  }
  const bars: BowedBar[] = [];
  for (const placed of barsOf(score)) {
    if (placed.bar.role === 'pickup') continue;
    const notes = byBar.get(`${placed.index}/${placed.part}`) ?? [];
    const opens = openingOf(placed, notes[0]);
    bars.push({
      part: placed.part,
      bar: placed.index,
      number: placed.bar.number,
      opens,
      strokes: notes.filter((n) => n.begins).length,
      turnedBy: opens === 'up' ? turnedBy(bars.at(-1), placed.part) : null,
    });
  }
  return bars;
};
