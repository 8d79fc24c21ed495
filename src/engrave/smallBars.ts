import { barLabel } from '../lesson/index.ts';
import { writeMei } from '../notation/index.ts';
import { type Bar, type BarWay, barsOf, type PlacedBar, type Score } from '../score/index.ts';
import { type Drawing, STAFF_UNITS } from './drawing.ts';
import type { Engraver } from './engraver.ts';
import { zoomOf } from './heading.ts';
import type { SheetPlan, SheetVersion } from './sheetPlan.ts';
import type { SignKey } from './signKey.ts';
import { type SvgElement, svg } from './svgTree.ts';
import { textAt, widthOf } from './text.ts';

/** Other ways to play bars, as small bars at the foot of a sheet. */
export interface SmallBars extends SignKey {
  /** Each as a version of one bar, for the key to the signs. */
  readonly versions: readonly SheetVersion[];
  readonly drawings: readonly Drawing[];
}

/** Staff, words and distances in points. Ours, looked at in print. */
const STAFF = 12;
const WORDS = 8.5;
const UNDER_WORDS = 3;
const GAP = 22;
const UNDER_ROW = 6;
const OVER = 8;

/** One bar as a tune of its own: nothing of the form around it. */
const aloneIn = (score: Score, { part, bar }: PlacedBar, way: BarWay): Score => {
  const { ways: _ways, ...rest } = bar;
  const alone: Bar = {
    ...rest,
    events: way.events,
    role: 'full',
    number: null,
    repeatStart: 0,
    repeatEnd: 0,
    ending: null,
    line: 'single',
    chords: [],
    annotations: [],
    tempo: null,
  };
  return {
    ...score,
    key: bar.key,
    metre: bar.metre,
    tempo: null,
    partOrder: null,
    parts: [{ label: part, named: false, bars: [alone] }],
  };
};

/** "Bar 3, the second time". */
const labelOf = ({ part, bar }: PlacedBar, { played }: BarWay, plan: SheetPlan): string => {
  const which = barLabel(part, bar, plan.words);
  return played === 'secondTimes' ? `${which}, the second time` : `${which}, another way`;
};

interface Item {
  readonly label: string;
  readonly drawing: Drawing;
  readonly width: number;
  readonly height: number;
}

const drawn = (version: SheetVersion, label: string, engraver: Engraver): Item => {
  const mei = writeMei(
    { title: '', composer: null, staves: [{ id: version.id, name: null, score: version.score }] },
    {
      range: { from: 0, to: 1 },
      labelsParts: false,
      writesTempo: false,
      oneSystem: true,
      printsMetre: false,
    },
  );
  const drawing = engraver.draw(mei, { width: 1, justified: false });
  const scale = STAFF / STAFF_UNITS;
  return {
    label,
    drawing,
    width: Math.max(drawing.width * scale, widthOf(label, WORDS, 'italic')),
    height: WORDS + UNDER_WORDS + drawing.height * scale,
  };
};

/** Items in rows no wider than `width`. */
const rowsOf = (items: readonly Item[], width: number): readonly (readonly Item[])[] => {
  const rows: Item[][] = [];
  let x = 0;
  for (const item of items) {
    const row = rows.at(-1);
    if (row === undefined || x + item.width > width) {
      rows.push([item]);
      x = item.width + GAP;
    } else {
      row.push(item);
      x += item.width + GAP;
    }
  }
  return rows;
};

const itemAt = ({ label, drawing }: Item, x: number): SvgElement =>
  svg('g', { transform: `translate(${x.toFixed(2)} 0)` }, [
    textAt(0, WORDS, label, { size: WORDS, face: 'italic' }),
    svg(
      'g',
      { transform: `translate(0 ${WORDS + UNDER_WORDS}) scale(${(STAFF / STAFF_UNITS).toFixed(5)})` },
      [...drawing.content],
    ),
  ]);

/**
 * The other ways to play bars that are to be printed, of a sheet with one version; none where it has several.
 * @param fullWidth - in points
 */
export const smallBars = (plan: SheetPlan, engraver: Engraver, fullWidth: number): SmallBars => {
  const [version, ...others] = plan.versions;
  const zoom = zoomOf(plan);
  const wanted =
    others.length > 0
      ? []
      : barsOf(version.score).flatMap((placed) =>
          (placed.bar.ways ?? []).filter((way) => way.printed).map((way) => ({ placed, way })),
        );
  const versions = wanted.map(
    ({ placed, way }, i): SheetVersion => ({
      id: `${version.id}Way${i}`,
      name: '',
      score: aloneIn(version.score, placed, way),
    }),
  );
  const items = versions.flatMap((v, i) => {
    const one = wanted[i];
    return one === undefined ? [] : [drawn(v, labelOf(one.placed, one.way, plan), engraver)];
  });
  const rows = rowsOf(items, fullWidth / zoom);
  const heights = rows.map((row) => Math.max(...row.map((item) => item.height)) + UNDER_ROW);
  const total = heights.reduce((a, b) => a + b, 0);
  return {
    versions,
    drawings: items.map((item) => item.drawing),
    height: rows.length === 0 ? 0 : (OVER + total) * zoom,
    at: (left, top) =>
      rows.map((row, r) => {
        const y = OVER + heights.slice(0, r).reduce((a, b) => a + b, 0);
        let x = 0;
        const content = row.map((item) => {
          const placed = itemAt(item, x);
          x += item.width + GAP;
          return placed;
        });
        return svg(
          'g',
          { transform: `translate(${left} ${(top + y * zoom).toFixed(2)}) scale(${zoom})` },
          content,
        );
      }),
  };
};
