import { barsOf } from '../score/index.ts';
import { type Drawing, STAFF_UNITS } from './drawing.ts';
import type { Engraver } from './engraver.ts';
import { footHeight, footLine, heading, runningHeading, tuneHeading } from './heading.ts';
import { withLineBows } from './lineBows.ts';
import { allGlyphs, pageSvg } from './pageSvg.ts';
import { PAPER_SIZES, type Page, SHEET_MEASURES, type SheetPlan, type SheetVersion } from './sheetPlan.ts';
import { drawSystems, heightsOf, naturalWidths, rangesFor, type SheetSystem } from './sheetSystems.ts';
import { type SignKey, signKey } from './signKey.ts';
import { signsIn } from './signs.ts';
import { type SmallBars, smallBars } from './smallBars.ts';
import { type SvgElement, svg } from './svgTree.ts';
import { systemAt } from './systemAt.ts';
import { holdsFourBars } from './systems.ts';
import { textAt, wrapped } from './text.ts';

/** One tune on the sheet of a set. */
export interface SetSheetTune {
  /** Of its one version; paper, teacher and date are those of the whole sheet. */
  readonly plan: SheetPlan;
  /** "twice through". */
  readonly times: string;
  /** The bar that leads to the next tune, and what is said of it; null behind the last one. */
  readonly corner: { readonly version: SheetVersion; readonly words: string } | null;
}

/** Everything that the sheet of a set shows. */
export interface SetSheetPlan {
  /** Heading and foot of the whole sheet; its versions are not printed. */
  readonly head: SheetPlan;
  readonly tunes: readonly [SetSheetTune, ...SetSheetTune[]];
}

/** Staves of a set in points: 6.7 mm, not under 4.8 mm. Ours, looked at in print. */
const STAFF = { usual: 19, least: 13.5, step: 0.5 } as const;
/** Distances in points; those in staff heights are marked. Ours, looked at in print. */
const GAPS = {
  underHeading: 12,
  overFoot: 12,
  overTune: 16,
  underTune: 7,
  systemStaves: 0.45,
  spreadStaves: 1.1,
  besideCorner: 14,
} as const;
const CORNER_WORDS = 9.5;
const CORNER_LINE = 12;
/** Stands before the bar that leads on. */
const CORNER_LABEL = 'last time';

/** Something that takes up height on a page and isn't parted. */
interface Item {
  readonly kind: 'tune' | 'system' | 'small' | 'corner';
  readonly tune: number;
  readonly height: number;
  /** From the item's top to where it is drawn from: a system's top line. */
  readonly above: number;
  readonly draw: (y: number) => readonly SvgElement[];
  readonly drawings: readonly Drawing[];
}

/** What stays the same at every staff size. */
interface Frame {
  readonly plan: SetSheetPlan;
  readonly engraver: Engraver;
  readonly size: { readonly width: number; readonly height: number };
  readonly widths: readonly (readonly number[])[];
  readonly cornerWidths: readonly (readonly number[])[];
  readonly small: readonly SmallBars[];
  readonly key: SignKey;
}

const cornerPlan = ({ plan, corner }: SetSheetTune): SheetPlan | null =>
  corner === null ? null : { ...plan, versions: [corner.version] };

const musicWidth = ({ size }: Frame): number =>
  size.width - SHEET_MEASURES.margin.left - SHEET_MEASURES.margin.right;

const systemItem = (system: SheetSystem, staff: number, tune: number): Item => {
  const { above, extent, below } = heightsOf(system, staff);
  return {
    kind: 'system',
    tune,
    height: above + extent + below,
    above,
    draw: (y) => [systemAt(system, staff, y)],
    drawings: [system.drawing],
  };
};

/** The bar that leads on, with what is said of it at its right. */
const cornerItem = (frame: Frame, index: number, staff: number): readonly Item[] => {
  const tune = frame.plan.tunes[index];
  const plan = tune === undefined ? null : cornerPlan(tune);
  if (tune === undefined || plan === null || tune.corner === null) return [];
  const width = musicWidth(frame) / staff;
  const [range] = rangesFor(plan, frame.cornerWidths[index] ?? [], width);
  if (range === undefined) return [];
  const labelled = { ...range, part: CORNER_LABEL };
  const [system] = drawSystems(plan, [labelled], { engraver: frame.engraver, width, metre: false });
  if (system === undefined) return [];
  const item = systemItem(system, staff, index);
  const left = SHEET_MEASURES.margin.left + (system.drawing.width * staff) / STAFF_UNITS + GAPS.besideCorner;
  const style = { size: CORNER_WORDS, face: 'italic' } as const;
  const lines = wrapped(tune.corner.words, frame.size.width - SHEET_MEASURES.margin.right - left, style);
  const words = (y: number): readonly SvgElement[] =>
    lines.map((line, i) =>
      textAt(
        left,
        y + staff / 2 + CORNER_WORDS * 0.3 + (i - (lines.length - 1) / 2) * CORNER_LINE,
        line,
        style,
      ),
    );
  return [{ ...item, kind: 'corner', draw: (y) => [...item.draw(y), ...words(y)] }];
};

/** Other ways to play bars of a tune, under its last line. */
const smallItem = ({ small }: Frame, index: number): readonly Item[] => {
  const bars = small[index];
  if (bars === undefined || bars.height === 0) return [];
  const { height, drawings, at } = bars;
  const draw = (y: number): readonly SvgElement[] => at(SHEET_MEASURES.margin.left, y);
  return [{ kind: 'small', tune: index, height, above: 0, draw, drawings }];
};

const itemsOf = (frame: Frame, staff: number): readonly Item[] =>
  frame.plan.tunes.flatMap((tune, index): readonly Item[] => {
    const head = tuneHeading(tune.plan, tune.times, frame.size.width);
    const width = musicWidth(frame) / staff;
    const ranges = rangesFor(tune.plan, frame.widths[index] ?? [], width);
    const systems = drawSystems(tune.plan, ranges, { engraver: frame.engraver, width });
    const title: Item = {
      kind: 'tune',
      tune: index,
      height: head.height,
      above: 0,
      draw: (y) => [
        svg('g', { transform: `translate(0 ${(y - SHEET_MEASURES.margin.top).toFixed(2)})` }, [
          ...head.content,
        ]),
      ],
      drawings: [],
    };
    return [
      title,
      ...systems.map((s) => systemItem(s, staff, index)),
      ...smallItem(frame, index),
      ...cornerItem(frame, index, staff),
    ];
  });

const gapBefore = (item: Item, before: Item | undefined, staff: number): number => {
  if (before === undefined) return 0;
  if (item.kind === 'tune') return GAPS.overTune;
  return before.kind === 'tune' ? GAPS.underTune : staff * GAPS.systemStaves;
};

const heightOf = (items: readonly Item[], staff: number): number =>
  items.reduce((sum, item, i) => sum + item.height + gapBefore(item, items[i - 1], staff), 0);

const roomOn = (
  frame: Frame,
  first: boolean,
  last: boolean,
): { readonly top: number; readonly bottom: number } => {
  const { plan, size, key } = frame;
  const { margin } = SHEET_MEASURES;
  const head = first ? heading(plan.head, size.width) : runningHeading(plan.head, size.width);
  return {
    top: margin.top + head.height + GAPS.underHeading,
    bottom: size.height - margin.bottom - footHeight(plan.head) - GAPS.overFoot - (last ? key.height : 0),
  };
};

/** Runs of items that stay on one page where they can: whole tunes, or parts of a tune that is longer than a page. */
const pagesOf = (frame: Frame, items: readonly Item[], staff: number): readonly (readonly Item[])[] => {
  // The key to the signs may come to stand on any page, so that room is kept on every one.
  const fits = (page: readonly Item[], first: boolean): boolean => {
    const { top, bottom } = roomOn(frame, first, true);
    return heightOf(page, staff) <= bottom - top;
  };
  const pages: (readonly Item[])[] = [];
  let page: readonly Item[] = [];
  const tunes = frame.plan.tunes.map((_, i) => items.filter(({ tune }) => tune === i));
  for (const tune of tunes) {
    if (fits([...page, ...tune], pages.length === 0)) {
      page = [...page, ...tune];
      continue;
    }
    if (page.length > 0) pages.push(page);
    page = [];
    for (const item of tune) {
      // A title is not left alone at the foot of a page.
      const withNext = item.kind === 'tune' ? tune.slice(0, 2) : [item];
      if (page.length > 0 && !fits([...page, ...withNext], pages.length === 0)) {
        pages.push(page);
        page = [];
      }
      page = [...page, item];
    }
  }
  return page.length > 0 ? [...pages, page] : pages;
};

interface Layout {
  readonly staff: number;
  readonly pages: readonly (readonly Item[])[];
}

const layoutAt = (frame: Frame, staff: number): Layout => ({
  staff,
  pages: pagesOf(frame, itemsOf(frame, staff), staff),
});

/** The largest staff at which every tune has four bars in a line; the least one where none does. */
const staffForLines = (frame: Frame): number => {
  for (let staff: number = STAFF.usual; staff > STAFF.least; staff -= STAFF.step) {
    const width = musicWidth(frame) / staff;
    const holds = frame.plan.tunes.every(({ plan }, i) =>
      holdsFourBars(plan.versions[0].score, rangesFor(plan, frame.widths[i] ?? [], width)),
    );
    if (holds) return staff;
  }
  return STAFF.least;
};

/** The largest staves on the fewest pages. */
const bestLayout = (frame: Frame): Layout => {
  const most = staffForLines(frame);
  const first = layoutAt(frame, most);
  const smallest = layoutAt(frame, STAFF.least);
  if (smallest.pages.length >= first.pages.length) return first;
  for (let staff = most - STAFF.step; staff > STAFF.least; staff -= STAFF.step) {
    const layout = layoutAt(frame, staff);
    if (layout.pages.length === smallest.pages.length) return layout;
  }
  return smallest;
};

/** Where each item's top comes to lie: what is free is shared out between lines and tunes, as far as it looks well. */
const topsOf = (
  items: readonly Item[],
  staff: number,
  room: ReturnType<typeof roomOn>,
): readonly number[] => {
  const gaps = items.map((item, i) => gapBefore(item, items[i - 1], staff));
  const open = items.filter((_, i) => i > 0 && items[i - 1]?.kind !== 'tune').length;
  const free = Math.max(0, room.bottom - room.top - heightOf(items, staff));
  const extra = open === 0 ? 0 : Math.min(free / open, staff * GAPS.spreadStaves);
  let y = room.top;
  return items.map((item, i) => {
    y += (gaps[i] ?? 0) + (i > 0 && items[i - 1]?.kind !== 'tune' ? extra : 0);
    const top = y;
    y += item.height;
    return top;
  });
};

const pageOf = (frame: Frame, { staff, pages }: Layout, index: number): Page => {
  const { plan, size, key } = frame;
  const items = pages[index] ?? [];
  const last = index === pages.length - 1;
  const room = roomOn(frame, index === 0, last);
  const tops = topsOf(items, staff, room);
  const head = index === 0 ? heading(plan.head, size.width) : runningHeading(plan.head, size.width);
  const keyTop = size.height - SHEET_MEASURES.margin.bottom - footHeight(plan.head) - key.height;
  const drawn = (last ? pages.flat() : items).flatMap(({ drawings }) => drawings);
  return pageSvg(size, allGlyphs(drawn), [
    svg('rect', { x: 0, y: 0, width: size.width, height: size.height, fill: '#fff' }),
    ...head.content,
    ...items.flatMap((item, i) => item.draw((tops[i] ?? room.top) + item.above)),
    ...(last ? key.at(SHEET_MEASURES.margin.left, keyTop) : []),
    ...footLine(plan.head, size, { number: index + 1, count: pages.length }),
  ]);
};

/** Every bar as a line of its own: more signs than any cut into lines has. */
const signsOf = ({ plan }: SetSheetTune): ReturnType<typeof signsIn> => {
  const alone = barsOf(plan.versions[0].score).map((_, at) => ({
    from: at,
    to: at + 1,
    part: null,
    width: 0,
  }));
  return signsIn(plan.versions.map((v) => ({ ...v, score: withLineBows(v, alone) })));
};

/**
 * Engraves the sheet of a set: its tunes one under the other, each with its title, and behind each but the last the bar
 * that leads to the next one. Tunes are not parted by a page where that can be had; staves are as large as the fewest
 * pages allow.
 * @returns the pages in order, at least one
 */
export const engraveSetSheet = (plan: SetSheetPlan, engraver: Engraver): readonly Page[] => {
  const size = PAPER_SIZES[plan.head.paper];
  const width = size.width - SHEET_MEASURES.margin.left - SHEET_MEASURES.margin.right;
  const small = plan.tunes.map((tune) => smallBars(tune.plan, engraver, width));
  const kinds = [
    ...new Set([...plan.tunes.flatMap(signsOf), ...small.flatMap(({ versions }) => signsIn(versions))]),
  ];
  const corners = plan.tunes.map(cornerPlan);
  const frame: Frame = {
    plan,
    engraver,
    size,
    widths: plan.tunes.map((tune) => naturalWidths(tune.plan, engraver)),
    cornerWidths: corners.map((corner) => (corner === null ? [] : naturalWidths(corner, engraver))),
    small,
    key: signKey(kinds, plan.head, width),
  };
  const layout = bestLayout(frame);
  return layout.pages.map((_, page) => pageOf(frame, layout, page));
};
