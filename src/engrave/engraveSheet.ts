import { barsOf } from '../score/index.ts';
import type { Engraver } from './engraver.ts';
import { footHeight, footLine, heading, runningHeading } from './heading.ts';
import { withLineBows } from './lineBows.ts';
import { type Room, type Spacing, systemsPerPage, topLines } from './pageFill.ts';
import { allGlyphs, pageSvg } from './pageSvg.ts';
import { PAPER_SIZES, type Page, SHEET_MEASURES, type SheetPlan } from './sheetPlan.ts';
import { drawSystems, heightsOf, naturalWidths, rangesFor, type SheetSystem } from './sheetSystems.ts';
import { type SignKey, signKey } from './signKey.ts';
import { signsIn } from './signs.ts';
import { type SmallBars, smallBars } from './smallBars.ts';
import { svg } from './svgTree.ts';
import { systemAt } from './systemAt.ts';
import { holdsFourBars, type SystemRange } from './systems.ts';

/** A sheet laid out at one staff size, in points. */
interface Layout {
  readonly staff: number;
  readonly systems: readonly SheetSystem[];
  readonly perPage: readonly number[];
}

/** What stays the same at every staff size. */
interface Frame {
  readonly plan: SheetPlan;
  readonly engraver: Engraver;
  readonly size: { readonly width: number; readonly height: number };
  readonly key: SignKey;
  /** Other ways to play bars, over the key. */
  readonly small: SmallBars;
  readonly widths: readonly number[];
}

/** Steps in which staves are made smaller, in points. Ours. */
const STEP = 0.5;
/** Distances under the heading, over the foot and between systems; those in staff heights are marked. Ours. */
const UNDER_HEADING = 10;
const OVER_FOOT = 12;
const LEAST_GAP_STAVES = 0.45;
const MOST_SPREAD_STAVES = 2;

const spacingOf = (staff: number): Spacing => ({
  least: staff * LEAST_GAP_STAVES,
  most: staff * MOST_SPREAD_STAVES,
});

const roomOf =
  (frame: Frame) =>
  (page: number, pages: number): Room => {
    const { plan, size, key, small } = frame;
    const { margin } = SHEET_MEASURES;
    const head = page === 0 ? heading(plan, size.width) : runningHeading(plan, size.width);
    const foot = footHeight(plan) + OVER_FOOT + (page === pages - 1 ? key.height + small.height : 0);
    return {
      top: margin.top + head.height + UNDER_HEADING,
      bottom: size.height - margin.bottom - foot,
    };
  };

const musicWidth = (frame: Frame): number =>
  frame.size.width - SHEET_MEASURES.margin.left - SHEET_MEASURES.margin.right;

const layoutAt = (frame: Frame, staff: number): Layout => {
  const width = musicWidth(frame) / staff;
  const ranges = rangesFor(frame.plan, frame.widths, width);
  const systems = drawSystems(frame.plan, ranges, { engraver: frame.engraver, width });
  const heights = systems.map((s) => heightsOf(s, staff));
  return { staff, systems, perPage: systemsPerPage(heights, roomOf(frame), spacingOf(staff).least) };
};

const sizesOf = (plan: SheetPlan): { readonly usual: number; readonly least: number } => {
  if (plan.largePrint) return SHEET_MEASURES.staff.largePrint;
  return plan.versions.length > 1 ? SHEET_MEASURES.staff.together : SHEET_MEASURES.staff.alone;
};

/** Share of a line that music may fill before it is stretched: with air, and without. Ours, looked at in print. */
const FILLED = [0.92, 1] as const;

/**
 * The largest staff, from the usual size down, at which lines hold the bars that one would wish: with air where that
 * can be had, else without; the usual size where it cannot.
 */
const staffForLines = (frame: Frame, usual: number, least: number): number => {
  const { plan, widths } = frame;
  const [{ score }] = plan.versions;
  for (const share of FILLED) {
    for (let staff = usual; staff >= least; staff -= STEP) {
      const width = (musicWidth(frame) / staff) * share;
      if (holdsFourBars(score, rangesFor(plan, widths, width))) return staff;
    }
  }
  return usual;
};

/** On a longer sheet one page less is not worth smaller staves. Ours. */
const MOST_PAGES_SAVED = 3;

/** The largest staves on the fewest pages: smaller ones only where they save a page. */
const bestLayout = (frame: Frame): Layout => {
  const { usual, least } = sizesOf(frame.plan);
  const first = layoutAt(frame, staffForLines(frame, usual, least));
  const pages = first.perPage.length;
  if (pages < 2 || pages > MOST_PAGES_SAVED || first.staff <= least) return first;
  const smallest = layoutAt(frame, least);
  if (smallest.perPage.length >= pages) return first;
  for (let staff = first.staff - STEP; staff > least; staff -= STEP) {
    const layout = layoutAt(frame, staff);
    if (layout.perPage.length === smallest.perPage.length) return layout;
  }
  return smallest;
};

const pageOf = (frame: Frame, layout: Layout, page: number): Page => {
  const { plan, size, key, small } = frame;
  const { staff, perPage } = layout;
  const pages = perPage.length;
  const start = perPage.slice(0, page).reduce((sum, n) => sum + n, 0);
  const systems = layout.systems.slice(start, start + (perPage[page] ?? 0));
  const room = roomOf(frame)(page, pages);
  const lines = topLines(
    systems.map((s) => heightsOf(s, staff)),
    room,
    spacingOf(staff),
  );
  const head = page === 0 ? heading(plan, size.width) : runningHeading(plan, size.width);
  const keyTop = size.height - SHEET_MEASURES.margin.bottom - footHeight(plan) - key.height;
  const last = page === pages - 1;
  return pageSvg(
    size,
    allGlyphs(
      last ? [...layout.systems.map((s) => s.drawing), ...small.drawings] : systems.map((s) => s.drawing),
    ),
    [
      svg('rect', { x: 0, y: 0, width: size.width, height: size.height, fill: '#fff' }),
      ...head.content,
      ...systems.map((s, i) => systemAt(s, staff, lines[i] ?? room.top)),
      ...(last ? small.at(SHEET_MEASURES.margin.left, keyTop - small.height) : []),
      ...(last ? key.at(SHEET_MEASURES.margin.left, keyTop) : []),
      ...footLine(plan, size, { number: page + 1, count: pages }),
    ],
  );
};

/** Every bar as a line of its own: more signs than any cut into lines has. */
const everyBarAlone = (plan: SheetPlan): readonly SystemRange[] =>
  barsOf(plan.versions[0].score).map((_, at) => ({ from: at, to: at + 1, part: null, width: 0 }));

/**
 * Engraves a sheet: what a plan says, on as few pages as staves of a legible size need.
 *
 * Each line is drawn for itself and remembered by the engraver, so that a second call after an edit draws only what
 * has changed.
 * @returns the pages in order, at least one, also for a tune without bars
 * @throws RangeError when the versions' bars do not correspond
 */
export const engraveSheet = (plan: SheetPlan, engraver: Engraver): readonly Page[] => {
  const size = PAPER_SIZES[plan.paper];
  const width = size.width - SHEET_MEASURES.margin.left - SHEET_MEASURES.margin.right;
  const small = smallBars(plan, engraver, width);
  const keyFor = (ranges: readonly SystemRange[]): SignKey => {
    const marked = plan.versions.map((v) => ({ ...v, score: withLineBows(v, ranges) }));
    return signKey(signsIn([...marked, ...small.versions]), plan, width);
  };
  const empty = plan.versions[0].score.parts.every((p) => p.bars.length === 0);
  const frame: Frame = {
    plan,
    engraver,
    size,
    key: keyFor(everyBarAlone(plan)),
    small,
    widths: empty ? [] : naturalWidths(plan, engraver),
  };
  const layout: Layout = empty ? { staff: 0, systems: [], perPage: [0] } : bestLayout(frame);
  // Which bows stand at the starts of lines is known only now: the key is at most smaller than the room kept for it.
  const printed = { ...frame, key: keyFor(layout.systems.map((system) => system.range)) };
  return layout.perPage.map((_, page) => pageOf(printed, layout, page));
};
