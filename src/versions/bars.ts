import type { DanceId } from '../music/index.ts';
import { type Cell, type CellChoice, type Sounding, walkCell } from './cells.ts';
import {
  BAR,
  FILL_CADENCE,
  FILL_HOOK,
  MOST_IN_PICKUP,
  SIMPLE_FILL,
  STEPS,
  USUAL_FILL,
  WIDTH,
} from './data.ts';
import { neighbourCost } from './hands.ts';
import type { Density } from './settings.ts';
import type { WeighedBar, WeighedNote } from './weigh.ts';

/** A whole bar thinned: one mask a cell. */
export interface BarChoice {
  readonly masks: readonly number[];
  readonly cost: number;
  /** What the next bar is reached from, and by what this one is reached; null when it has no note. */
  readonly first: WeighedNote | null;
  readonly last: WeighedNote | null;
  /** Nothing but pulses where the plain bar runs. */
  readonly bare: boolean;
}

/** What the bars of a tune are measured against. */
export interface BarAims {
  readonly dance: DanceId;
  readonly density: Density;
  /** Snaps and dots are the dance's character. */
  readonly snapped: boolean;
  /** Added to the share of places that a bar aims to fill; the hook is left out of it unless it is `pressed`. */
  readonly shift: number;
  readonly pressed: boolean;
}

/** Whether a bar is a running one: at least three places in four are struck in the plain version. */
export const isRunning = (bar: WeighedBar): boolean => 4 * bar.struck >= 3 * bar.places && bar.places > 2;

/** Whether an even number of separate strokes brings the bow back to where it began: all but bars of three beats. */
export const asksForEven = (bar: WeighedBar): boolean =>
  bar.line.bar.role === 'full' && Math.round(bar.line.length / bar.grid.beat) % 2 === 0;

/** A sparser step takes from what there is: a bar that is simple already shall feel it too. */
const densityAim = (bar: WeighedBar, aims: BarAims): number => {
  const { fill } = STEPS[aims.density];
  const usual = USUAL_FILL[aims.dance];
  return fill < 0 ? Math.min(usual, bar.struck / bar.places) + fill : usual + fill;
};

const fillAim = (bar: WeighedBar, aims: BarAims): number =>
  densityAim(bar, aims) +
  (bar.hook ? FILL_HOOK : 0) +
  (bar.hook && !aims.pressed ? 0 : aims.shift) +
  (bar.cadence ? FILL_CADENCE : 0);

interface Tally {
  readonly strokes: number;
  readonly struckPlaces: number;
  readonly longest: number;
  readonly offPulse: number;
  /** Lengths that no single note head shows. */
  readonly tiedLengths: number;
  readonly first: WeighedNote | null;
  readonly last: WeighedNote | null;
}

/** Whether one note head with a dot or none shows a length of so many ticks; lengths of tuplets are let pass. */
const fitsOneHead = (length: number, ticks: number): boolean => {
  let size = (length * 64) / ticks;
  if (!Number.isInteger(size) || size === 0) return true;
  while (size % 2 === 0) size /= 2;
  return size <= 3;
};

const tallyOf = (bar: WeighedBar, cells: readonly Cell[], masks: readonly number[]): Tally => {
  const { ticks } = bar;
  let strokes = 0;
  let struckPlaces = 0;
  let longest = 0;
  let offPulse = 0;
  let tiedLengths = 0;
  let place = -1;
  let first: WeighedNote | null = null;
  let last: WeighedNote | null = null;
  let since = 0;
  for (let c = 0; c < cells.length; c += 1) {
    const notes = (cells[c] as Cell).notes;
    const mask = masks[c] ?? 0;
    for (let i = 0; i < notes.length; i += 1) {
      if ((mask & (1 << i)) === 0) continue;
      const note = notes[i] as WeighedNote;
      strokes += 1;
      if (note.place !== place) struckPlaces += 1;
      place = note.place;
      if (!note.onPulse) offPulse += 1;
      longest = Math.max(longest, note.at - since);
      if (strokes > 1 && !fitsOneHead(note.at - since, ticks)) tiedLengths += 1;
      since = note.at;
      first ??= note;
      last = note;
    }
  }
  longest = Math.max(longest, bar.line.length - since);
  if (strokes > 0 && !fitsOneHead(bar.line.length - since, ticks)) tiedLengths += 1;
  return { strokes, struckPlaces, longest, offPulse, tiedLengths, first, last };
};

/** What a bar costs as a whole: density, strokes, dullness; its cells' own costs apart. */
const wholeCost = (bar: WeighedBar, tally: Tally, aims: BarAims): number => {
  const plainNotes = bar.notes.length;
  let cost = 0;
  const asPlain = tally.strokes === plainNotes;
  const shortPickup = bar.line.bar.role !== 'full' && bar.line.index === 0 && plainNotes <= MOST_IN_PICKUP;
  const simple =
    asPlain && STEPS[aims.density].fill >= 0 && (shortPickup || bar.struck <= SIMPLE_FILL * bar.places);
  const aim = Math.min(fillAim(bar, aims) * bar.places, bar.struck);
  if (!simple) cost += (aims.snapped ? BAR.densitySnapped : BAR.density) * (tally.struckPlaces - aim) ** 2;
  if (simple || (asPlain && !isRunning(bar))) return cost;
  const step = STEPS[aims.density];
  if (asPlain && bar.runs && !aims.snapped) cost += BAR.runLeft * step.runs;
  if (shortPickup) cost += BAR.pickupThinned;
  cost += BAR.tiedLength * tally.tiedLengths;
  if (tally.strokes % 2 === 1 && asksForEven(bar))
    cost += bar.grid.kind === 'threes' ? BAR.oddStrokesOfThrees : BAR.oddStrokes;
  if (tally.strokes === 1 && bar.line.bar.role === 'full') cost += BAR.oneNote;
  if (isRunning(bar) && tally.offPulse === 0) cost += BAR.bare * step.dull;
  if (tally.longest < Math.min(bar.grid.pulse, 2 * bar.grid.running) && bar.line.bar.role === 'full')
    cost += aims.snapped ? BAR.noLongNoteSnapped : BAR.noLongNote;
  return cost;
};

/** What a bar costs with these masks, the notes before it left out of account. */
export const judgeBar = (
  bar: WeighedBar,
  cells: readonly Cell[],
  given: { readonly masks: readonly number[]; readonly ownCosts: readonly number[]; readonly aims: BarAims },
): BarChoice => {
  const { masks, ownCosts, aims } = given;
  let sounding = enteringOf(bar);
  let cost = 0;
  for (let c = 0; c < cells.length; c += 1) {
    const cell = cells[c] as Cell;
    const mask = masks[c] ?? 0;
    const walked = walkCell(cell, mask, sounding);
    const alone = walkCell(cell, mask, null);
    cost += (ownCosts[c] ?? 0) + walked.cost - alone.cost;
    sounding = walked.leaving;
  }
  const tally = tallyOf(bar, cells, masks);
  cost += wholeCost(bar, tally, aims);
  const bare = isRunning(bar) && tally.offPulse === 0;
  return { masks, cost, first: tally.first, last: tally.last, bare };
};

const enteringOf = (bar: WeighedBar): Sounding | null =>
  bar.line.carried === null
    ? null
    : { midi: bar.line.carried.midi, adjacent: true, offPulse: false, offPlace: false };

interface Partial {
  readonly masks: readonly number[];
  readonly ownCosts: readonly number[];
  readonly cost: number;
  readonly sounding: Sounding | null;
}

/**
 * The best ways to thin a bar, cheapest first: cell after cell, the most promising beginnings kept.
 * @param options - each cell's choices with their costs
 */
export const barChoices = (
  bar: WeighedBar,
  cells: readonly Cell[],
  given: { readonly options: readonly (readonly CellChoice[])[]; readonly aims: BarAims },
): readonly BarChoice[] => {
  let partials: readonly Partial[] = [{ masks: [], ownCosts: [], cost: 0, sounding: enteringOf(bar) }];
  cells.forEach((cell, c) => {
    const grown: Partial[] = [];
    for (const partial of partials) {
      for (const choice of (given.options[c] ?? []).slice(0, WIDTH.cell)) {
        const walked = walkCell(cell, choice.mask, partial.sounding);
        const alone = walkCell(cell, choice.mask, null);
        grown.push({
          masks: [...partial.masks, choice.mask],
          ownCosts: [...partial.ownCosts, choice.cost],
          cost: partial.cost + choice.cost + walked.cost - alone.cost,
          sounding: walked.leaving,
        });
      }
    }
    grown.sort((a, b) => a.cost - b.cost);
    partials = grown.slice(0, 3 * WIDTH.bar);
  });
  return partials
    .map((p) => judgeBar(bar, cells, { masks: p.masks, ownCosts: p.ownCosts, aims: given.aims }))
    .sort((a, b) => a.cost - b.cost)
    .slice(0, WIDTH.bar);
};

/** What going from one bar to the next costs. */
export const joinCost = (
  before: BarChoice,
  after: BarChoice,
  bars: readonly [WeighedBar, WeighedBar],
): number => {
  let cost = before.bare && after.bare ? BAR.bareAgain : 0;
  if (before.last === null || after.first === null || bars[1].line.carried !== null) return cost;
  const adjacent = before.last === bars[0].notes.at(-1) && after.first === bars[1].notes[0];
  if (!adjacent) cost += neighbourCost(before.last.midi, after.first.midi);
  return cost;
};
