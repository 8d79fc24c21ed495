import { chordGridOf, type GridBar, type GridPart } from './chordGrid.ts';
import { footHeight, footLine, heading, runningHeading } from './heading.ts';
import { pageSvg } from './pageSvg.ts';
import { PAPER_SIZES, type Page, SHEET_MEASURES, type SheetPlan } from './sheetPlan.ts';
import { type SvgElement, svg } from './svgTree.ts';
import { textAt, widthOf } from './text.ts';

/** Boxes in a row. Common practice: four. */
const A_ROW = 4;
/** Heights of a row of boxes and of the space between parts, in points: as large as the page allows within these. Ours. */
const ROWS = { usual: 42, least: 19 };
const PART_GAP_SHARE = 0.35;
const UNDER_HEADING = 16;
const OVER_FOOT = 10;
const CHORD_SHARE = 0.44;
const MOST_CHORD = 19;
const NUMBER = 7.5;

interface Row {
  readonly bars: readonly GridBar[];
  /** Label of the part that begins here; null: it goes on. */
  readonly part: string | null;
  /** Column of its first box, from 0. */
  readonly column: number;
}

/** A second ending stands under the first. */
const firstEndingColumn = (rows: readonly Row[]): number | null => {
  for (const row of rows.toReversed()) {
    const at = row.bars.findIndex((b) => b.ending?.includes(1) === true);
    if (at >= 0) return row.column + at;
  }
  return null;
};

const rowsOf = (parts: readonly GridPart[]): readonly Row[] =>
  parts.flatMap((part) => {
    const rows: Row[] = [];
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

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

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

/** Names side by side at their place in the bar, smaller where they would not fit. */
const chordNames = (bar: GridBar, box: Box): readonly SvgElement[] => {
  const left = bar.repeatStart ? 11 : 6;
  const right = bar.repeatEnd ? 11 : 4;
  const room = box.width - left - right;
  const usual = Math.min(MOST_CHORD, box.height * CHORD_SHARE);
  const names = bar.chords.map((c) => c.name);
  const total = (size: number): number =>
    names.reduce((sum, n) => sum + widthOf(n, size, 'bold'), 0) + (names.length - 1) * size * 0.45;
  const size = total(usual) <= room ? usual : (usual * room) / total(usual);
  const y = box.y + box.height * 0.5 + size * 0.42;
  let free = 0;
  return bar.chords.map((chord) => {
    const x = Math.max(free, chord.at * room);
    free = x + widthOf(chord.name, size, 'bold') + size * 0.45;
    const over = Math.max(0, x + widthOf(chord.name, size, 'bold') - room);
    return textAt(box.x + left + x - (names.length < 3 ? over : 0), y, chord.name, { size, face: 'bold' });
  });
};

const boxOf = (bar: GridBar, box: Box): readonly SvgElement[] => [
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
  ...(bar.ending === null
    ? []
    : [
        textAt(
          box.x + box.width - (bar.repeatEnd ? 12 : 5),
          box.y + NUMBER + 1.5,
          bar.ending.map((p) => `${p}.`).join(' '),
          {
            size: NUMBER + 1,
            anchor: 'end',
          },
        ),
      ]),
  ...chordNames(bar, box),
  ...(bar.repeatStart ? repeatSign(box, 'start') : []),
  ...(bar.repeatEnd ? repeatSign(box, 'end') : []),
];

const heightOfRows = (rows: readonly Row[], height: number): number =>
  rows.reduce((sum, row, i) => sum + height * (1 + (i > 0 && row.part !== null ? PART_GAP_SHARE : 0)), 0);

/** Rows on each page at the largest height that needs the fewest pages. */
const pagesOf = (
  rows: readonly Row[],
  room: (page: number) => number,
): { readonly height: number; readonly pages: readonly (readonly Row[])[] } => {
  const split = (height: number): readonly (readonly Row[])[] => {
    const pages: Row[][] = [[]];
    for (const row of rows) {
      const current = pages.at(-1) ?? [];
      if (current.length > 0 && heightOfRows([...current, row], height) > room(pages.length - 1))
        pages.push([row]);
      else current.push(row);
    }
    return pages;
  };
  const fewest = split(ROWS.least).length;
  for (let height = ROWS.usual; height > ROWS.least; height -= 1) {
    const pages = split(height);
    if (pages.length === fewest) return { height, pages };
  }
  return { height: ROWS.least, pages: split(ROWS.least) };
};

/**
 * The chord grid that a guitarist wants: a box a bar in rows of four, part letters, repeats and endings.
 *
 * The chords are those over the plan's last version. A tune of up to 64 printed bars takes one page.
 * @returns the pages in order, at least one
 */
export const chordGridPages = (plan: SheetPlan): readonly Page[] => {
  const size = PAPER_SIZES[plan.paper];
  const { margin } = SHEET_MEASURES;
  const score = (plan.versions.at(-1) ?? plan.versions[0]).score;
  const titled: SheetPlan = { ...plan, subtitle: 'Chords' };
  const headOf = (page: number) =>
    page === 0 ? heading(titled, size.width) : runningHeading(titled, size.width);
  const topOf = (page: number): number => margin.top + headOf(page).height + UNDER_HEADING;
  const bottom = size.height - margin.bottom - footHeight(plan) - OVER_FOOT;
  const { height, pages } = pagesOf(rowsOf(chordGridOf(score)), (page) => bottom - topOf(page));
  const width = (size.width - margin.left - margin.right) / A_ROW;
  return pages.map((rows, page) => {
    let y = topOf(page);
    const content = rows.flatMap((row, i) => {
      if (i > 0 && row.part !== null) y += height * PART_GAP_SHARE;
      const boxes = row.bars.flatMap((bar, k) =>
        boxOf(bar, { x: margin.left + (row.column + k) * width, y, width, height }),
      );
      const label =
        row.part === null
          ? []
          : [
              textAt(margin.left - 9, y + height * 0.5 + 5, row.part, {
                size: 15,
                face: 'bold',
                anchor: 'end',
              }),
            ];
      y += height;
      return [...label, ...boxes];
    });
    return pageSvg(size, new Map(), [
      svg('rect', { x: 0, y: 0, width: size.width, height: size.height, fill: '#fff' }),
      ...headOf(page).content,
      ...content,
      ...footLine(titled, size, { number: page + 1, count: pages.length }),
    ]);
  });
};
