import { isRunning } from './bars.ts';
import { type Board, type ChooseAims, flagsOf, type Kept, layOut } from './board.ts';
import { AIM_STEP, MOST_FILL, MOSTLY_RUNNING, STEPS } from './data.ts';
import { chosenOn, withOneLess } from './settle.ts';
import type { WeighedBar } from './weigh.ts';

/** The mean share of running-note places that the running bars fill; null where few bars run. */
const fillOf = (board: Board, kept: Kept): number | null => {
  const shares = board.bars.flatMap((bar, b) => {
    if (bar.line.bar.role !== 'full' || !isRunning(bar)) return [];
    const places = new Set(bar.notes.filter((_, i) => kept[b]?.[i] === true).map((n) => n.place));
    return [places.size / bar.places];
  });
  const full = board.bars.filter((bar) => bar.line.bar.role === 'full').length;
  const runs = board.bars.filter((bar) => bar.line.bar.role === 'full' && bar.runs).length;
  const few = shares.length === 0 || runs < MOSTLY_RUNNING * full;
  return few ? null : shares.reduce((a, b) => a + b, 0) / shares.length;
};

const leavesAll = (kept: Kept): boolean => kept.every((flags) => flags.every(Boolean));

/**
 * Which notes of the plain version stay in the bones?
 *
 * Each cell's figures are weighed, equal cells share the mean of their costs, the cheapest path through all bars is
 * taken, and then each kind of equal cells gets the one figure that suits all its places best. A tune that comes out
 * fuller than its density on the whole, or just as it went in though it runs, is gone over with a lower aim. All that is
 * ever chosen is one mask a kind, so equal cells, and with them equal bars, can't come out differently.
 */
export const chooseKept = (bars: readonly WeighedBar[], aims: ChooseAims): Kept => {
  if (bars.length === 0) return [];
  const board = layOut(bars, aims);
  const most = MOST_FILL + STEPS[aims.density].fill;
  let pressed = false;
  let chosen: readonly number[] | null = null;
  for (let time = 0; ; time += 1) {
    const shift = -AIM_STEP.by * time;
    const own = { ...board, aims: { ...board.aims, shift, pressed } };
    chosen = chosenOn(own, chosen);
    const kept = flagsOf(own, chosen);
    const fill = fillOf(own, kept);
    const untouched = STEPS[aims.density].fill <= 0 && leavesAll(kept) && bars.some(isRunning);
    pressed = untouched;
    if (!untouched && (fill === null || fill <= most)) return kept;
    if (time === AIM_STEP.times) return untouched ? flagsOf(own, withOneLess(own, chosen)) : kept;
  }
};
