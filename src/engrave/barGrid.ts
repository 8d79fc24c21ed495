import { type CountedBar, countedBarsOf, type Score } from '../score/index.ts';
import { footHeight, footLine, heading, runningHeading } from './heading.ts';
import { pageSvg } from './pageSvg.ts';
import { PAPER_SIZES, type Page, SHEET_MEASURES, type SheetPlan } from './sheetPlan.ts';
import { type SvgElement, svg } from './svgTree.ts';
import { textAt } from './text.ts';

/** A counted bar as a box of a grid: its number and what its repeats ask for. */
export interface FramedBar {
  readonly number: number;
  readonly repeatStart: boolean;
  readonly repeatEnd: boolean;
  /** Passes for which the ending that starts here is played; null where none starts. */
  readonly ending: readonly number[] | null;
}

/** A part's boxes in order. */
export interface GridPart<Bar extends FramedBar> {
  readonly label: string;
  readonly bars: readonly Bar[];
}

/** A box's place on the page, in points. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** What stands in the boxes of a grid, and under it. */
export interface GridContent<Bar extends FramedBar> {
  /** Under the title ("Chords"). */
  readonly subtitle: string;
  readonly inBox: (bar: Bar, box: Box) => readonly SvgElement[];
  /** Under the last row, over the page's full width; on a page of its own where it does not fit. */
  readonly foot: {
    readonly height: number;
    readonly at: (left: number, top: number) => readonly SvgElement[];
  };
}

/** Boxes in a row. Common practice: four. */
const A_ROW = 4;
/** Heights of a row of boxes and of the space between parts, in points: as large as the page allows within these. Ours. */
const ROWS = { usual: 42, least: 19 };
const PART_GAP_SHARE = 0.35;
const UNDER_HEADING = 16;
const OVER_FOOT = 10;
const NUMBER = 7.5;

/** The frames of a part's counted bars: a pick-up's repeat sign and the rest of a split bar belong to them. */
const framedBar = (bar: CountedBar): FramedBar => {
  const all = [...bar.before, bar.main, ...bar.behind];
  return {
    number: bar.main.number ?? 0,
    repeatStart: all.some((b) => b.repeatStart > 0),
    repeatEnd: all.some((b) => b.repeatEnd > 0),
    ending: all.find((b) => b.ending !== null)?.ending ?? null,
  };
};

/** The counted bars of a score as boxes, part by part; a score without bars has no parts. */
export const gridPartsOf = <Bar extends FramedBar>(
  score: Score,
  boxOf: (bar: CountedBar, frame: FramedBar, part: string) => Bar,
): readonly GridPart<Bar>[] =>
  score.parts
    .filter((part) => part.bars.length > 0)
    .map((part) => ({
      label: part.label,
      bars: countedBarsOf(part).map((bar) => boxOf(bar, framedBar(bar), part.label)),
    }));

interface Row<Bar extends FramedBar> {
  readonly bars: readonly Bar[];
  /** Label of the part that begins here; null: it goes on. */
  readonly part: string | null;
  /** Column of its first box, from 0. */
  readonly column: number;
}

/** A second ending stands under the first. */
const firstEndingColumn = (rows: readonly Row<FramedBar>[]): number | null => {
  for (const row of rows.toReversed()) {
    const at = row.bars.findIndex((b) => b.ending?.includes(1) === true);
    if (at >= 0) return row.column + at;
  }
  return null;
};

const rowsOf = <Bar extends FramedBar>(parts: readonly GridPart<Bar>[]): readonly Row<Bar>[] =>
  parts.flatMap((part) => {
    const rows: Row<Bar>[] = [];
    let column = 0;
    for (const bar of part.bars) {
      const under = bar.ending !== null && !bar.ending.includes(1) ? firstEndingColumn(rows) : null;
      const row = rows.at(-1);
      if (row === undefined || column >= A_ROW || under !== null) {
        rows.push({ bars: [bar], part: row === undefined ? part.label : null, column: under ?? 0 });
        column = (under ?? 0) + 1;
      } else {
        rows[rows.length - 1] = { ...row, bars: [...row.bars, bar] };
        column += 1;
      }
    }
    return rows;
  });

const line = (x1: number, y1: number, x2: number, y2: number, width: number): SvgElement =>
  svg('path', {
    d: `M${x1.toFixed(2)} ${y1.toFixed(2)} L${x2.toFixed(2)} ${y2.toFixed(2)}`,
    stroke: '#000',
    'stroke-width': width,
  });

const repeatSign = (box: Box, side: 'start' | 'end'): readonly SvgElement[] => {
  const inward = side === 'start' ? 1 : -1;
  const x = side === 'start' ? box.x : box.x + box.width;
  const dots = [0.38, 0.62].map((share) =>
    svg('circle', { cx: x + inward * 7.5, cy: box.y + box.height * share, r: 1.4 }),
  );
  return [
    line(x + inward * 1.2, box.y, x + inward * 1.2, box.y + box.height, 2.4),
    line(x + inward * 4.4, box.y, x + inward * 4.4, box.y + box.height, 0.7),
    ...dots,
  ];
};

const endingWords = (bar: FramedBar, ending: readonly number[], box: Box): SvgElement =>
  textAt(
    box.x + box.width - (bar.repeatEnd ? 12 : 5),
    box.y + NUMBER + 1.5,
    ending.map((p) => `${p}.`).join(' '),
    { size: NUMBER + 1, anchor: 'end' },
  );

const frameOf = (bar: FramedBar, box: Box, inBox: readonly SvgElement[]): readonly SvgElement[] => [
  ...inBox,
  svg('rect', {
    x: box.x,
    y: box.y,
    width: box.width,
    height: box.height,
    fill: 'none',
    stroke: '#000',
    'stroke-width': 0.7,
  }),
  textAt(box.x + (bar.repeatStart ? 8 : 3), box.y + NUMBER + 1.5, String(bar.number), {
    size: NUMBER,
    face: 'italic',
  }),
  ...(bar.ending === null ? [] : [endingWords(bar, bar.ending, box)]),
  ...(bar.repeatStart ? repeatSign(box, 'start') : []),
  ...(bar.repeatEnd ? repeatSign(box, 'end') : []),
];

const heightOfRows = (rows: readonly Row<FramedBar>[], height: number): number =>
  rows.reduce((sum, row, i) => sum + height * (1 + (i > 0 && row.part !== null ? PART_GAP_SHARE : 0)), 0);

/** Rows on each page at the largest height that needs the fewest pages; the last page has room for the foot. */
const pagesOf = <Bar extends FramedBar>(
  rows: readonly Row<Bar>[],
  foot: number,
  room: (page: number) => number,
): { readonly height: number; readonly pages: readonly (readonly Row<Bar>[])[] } => {
  const split = (height: number): readonly (readonly Row<Bar>[])[] => {
    const pages: Row<Bar>[][] = [[]];
    for (const row of rows) {
      const current = pages.at(-1) ?? [];
      if (current.length > 0 && heightOfRows([...current, row], height) > room(pages.length - 1))
        pages.push([row]);
      else current.push(row);
    }
    const last = pages.at(-1) ?? [];
    if (last.length > 0 && heightOfRows(last, height) + foot > room(pages.length - 1)) pages.push([]);
    return pages;
  };
  const fewest = split(ROWS.least).length;
  for (let height = ROWS.usual; height > ROWS.least; height -= 1) {
    const pages = split(height);
    if (pages.length === fewest) return { height, pages };
  }
  return { height: ROWS.least, pages: split(ROWS.least) };
};

const partLetter = (label: string, y: number, height: number): SvgElement =>
  textAt(SHEET_MEASURES.margin.left - 9, y + height * 0.5 + 5, label, {
    size: 15,
    face: 'bold',
    anchor: 'end',
  });

/**
 * A tune as boxes, one a counted bar, in rows of four: part letters, repeats and endings drawn, the content given.
 *
 * A tune of up to 64 printed bars takes one page where nothing stands under it.
 * @returns the pages in order, at least one
 */
export const barGridPages = <Bar extends FramedBar>(
  plan: SheetPlan,
  parts: readonly GridPart<Bar>[],
  { subtitle, inBox, foot }: GridContent<Bar>,
): readonly Page[] => {
  const size = PAPER_SIZES[plan.paper];
  const { margin } = SHEET_MEASURES;
  const titled: SheetPlan = { ...plan, subtitle };
  const headOf = (page: number) =>
    page === 0 ? heading(titled, size.width) : runningHeading(titled, size.width);
  const topOf = (page: number): number => margin.top + headOf(page).height + UNDER_HEADING;
  const bottom = size.height - margin.bottom - footHeight(plan) - OVER_FOOT;
  const { height, pages } = pagesOf(rowsOf(parts), foot.height, (page) => bottom - topOf(page));
  const width = (size.width - margin.left - margin.right) / A_ROW;
  return pages.map((rows, page) => {
    let y = topOf(page);
    const content = rows.flatMap((row, i) => {
      if (i > 0 && row.part !== null) y += height * PART_GAP_SHARE;
      const boxes = row.bars.flatMap((bar, k) => {
        const box = { x: margin.left + (row.column + k) * width, y, width, height };
        return frameOf(bar, box, inBox(bar, box));
      });
      const label = row.part === null ? [] : [partLetter(row.part, y, height)];
      y += height;
      return [...label, ...boxes];
    });
    return pageSvg(size, new Map(), [
      svg('rect', { x: 0, y: 0, width: size.width, height: size.height, fill: '#fff' }),
      ...headOf(page).content,
      ...content,
      ...(page === pages.length - 1 ? foot.at(margin.left, y) : []),
      ...footLine(titled, size, { number: page + 1, count: pages.length }),
    ]);
  });
};
