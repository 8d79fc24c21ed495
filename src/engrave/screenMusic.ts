import { elementIdOf, meiWriterOf } from '../notation/index.ts';
import {
  type Address,
  addressKey,
  barsOf,
  type PlacedBar,
  placedEvents,
  type Score,
} from '../score/index.ts';
import { barWidths, LINE_WRITING } from './barWidths.ts';
import { glyphId } from './cleanDrawing.ts';
import { type Drawing, STAFF_UNITS } from './drawing.ts';
import type { Engraver } from './engraver.ts';
import type { SheetVersion } from './sheetPlan.ts';
import { elementsOf, type SvgElement, writeSvg } from './svgTree.ts';
import { signatureWidth } from './systems.ts';

/** Where a note stands in a line: the key of its address and the left edge of its head. */
export type ScreenNote = readonly [key: string, x: number];

/** One line of music for a screen, in drawing units: a staff is 720 high. */
export interface ScreenLine {
  /** The written bars in it, counted through all parts, `to` not included. */
  readonly from: number;
  readonly to: number;
  /** Label of the part that begins here; null: a part goes on. */
  readonly part: string | null;
  readonly width: number;
  readonly height: number;
  /** One for each version, top staff first. */
  readonly staves: readonly {
    readonly version: string;
    readonly top: number;
    readonly bottom: number;
    readonly notes: readonly ScreenNote[];
  }[];
  readonly bars: readonly { readonly left: number; readonly right: number }[];
  /** What to put into an SVG element of that size. */
  readonly svg: string;
}

/** A tune engraved for a screen with a certain number of bars in a line. */
export interface ScreenMusic {
  readonly barsInLine: number;
  /** Ids of the versions, top staff first. */
  readonly versions: readonly string[];
  readonly lines: readonly ScreenLine[];
  /** Outlines of the musical signs by the id that the lines use. */
  readonly signs: Readonly<Record<string, string>>;
}

interface Range {
  readonly from: number;
  readonly to: number;
  readonly part: string | null;
}

/** Each part begins a line; a pick-up stands with the bar that it leads into, the rest of a bar with its bar. */
const rangesOf = (score: Score, barsInLine: number): readonly Range[] => {
  const ranges: { from: number; to: number; part: string | null }[] = [];
  let from = 0;
  for (const part of score.parts) {
    let full = 0;
    part.bars.forEach((bar, i) => {
      const opens = i === 0 || (bar.role !== 'restOfBar' && full >= barsInLine);
      if (opens) {
        ranges.push({ from: from + i, to: from + i, part: i === 0 ? part.label : null });
        full = 0;
      }
      if (bar.role === 'full') full += 1;
      const last = ranges.at(-1);
      if (last !== undefined) last.to = from + i + 1;
    });
    from += part.bars.length;
  }
  return ranges;
};

const headX = (drawing: Drawing, id: string, index: ReadonlyMap<string, SvgElement>): number | null => {
  const group = index.get(id);
  if (group === undefined) return null;
  const heads = elementsOf(group)
    .filter((e) => e.name === 'use' && /sign-E0A/.test(e.attributes['xlink:href'] ?? ''))
    .map((e) => Number(/translate\((-?[\d.]+)/.exec(e.attributes.transform ?? '')?.[1]));
  return heads.length === 0 ? null : Math.min(...heads) + shiftOf(drawing);
};

/** The drawing's content stands in one group that moves it by the page's margin. */
const shiftOf = (drawing: Drawing): number => {
  const [only] = drawing.content;
  return Number(/^translate\((-?[\d.]+)/.exec(only?.attributes.transform ?? '')?.[1] ?? 0);
};

const notesIn = (
  version: string,
  bars: readonly PlacedBar[],
  drawing: Drawing,
  index: ReadonlyMap<string, SvgElement>,
): readonly ScreenNote[] =>
  bars.flatMap(({ bar, part, index: place }) =>
    placedEvents(bar).flatMap(({ event, onset }): ScreenNote[] => {
      if (event.kind === 'rest') return [];
      const address: Address = { part, bar: place, onset };
      const x = headX(drawing, elementIdOf(version, address), index);
      return x === null ? [] : [[addressKey(address), Math.round(x)]];
    }),
  );

/** A line is not pulled apart beyond this factor of its natural width. Ours. */
const MOST_STRETCH = 1.6;

type Versions = readonly [SheetVersion, ...SheetVersion[]];

/** Chords come as a row of their own, so the drawing has none. */
const withoutChords = (score: Score): Score => ({
  ...score,
  parts: score.parts.map((part) => ({ ...part, bars: part.bars.map((bar) => ({ ...bar, chords: [] })) })),
});

/**
 * Natural widths of lines that were measured before, in staff heights.
 *
 * A line that has changed a little is taken to be as wide as before, so that it is drawn once and not twice.
 */
export type WidthMemory = Map<string, number>;

/** Lines with about as many notes are about as wide: so many notes are one step. Ours. */
const NOTES_STEP = 6;
/** Where lines change all the time, the width of all goes in steps of so many staff heights. Ours. */
const WIDTH_STEP = 2;

const widthKey = (versions: Versions, { from, to }: Range): string => {
  const notes = versions.reduce(
    (sum, { score }) =>
      sum +
      barsOf(score)
        .slice(from, to)
        .reduce((n, { bar }) => n + bar.events.length, 0),
    0,
  );
  return `${versions.map((v) => v.id).join()} ${from} ${to} ${Math.round(notes / NOTES_STEP)}`;
};

/** Where so many lines are not known yet, the widths are read off the whole tune. Ours. */
const MEASURED_ALONE = 3;

/** Width of a metre at the beginning of a line, in staff heights. */
const METRE_WIDTH = 0.8;

type WriteRange = ReturnType<typeof meiWriterOf>;

const writingOf = (range: Range) => ({ ...LINE_WRITING, range, printsMetre: range.from === 0 });

/** Natural widths of lines in staff heights. Of many lines, those that seem widest are measured, the others summed up. */
const naturalWidthsOf = (
  ranges: readonly Range[],
  bars: readonly PlacedBar[],
  write: WriteRange,
  engraver: Engraver,
): readonly number[] => {
  const measured = (range: Range): number =>
    engraver.draw(write(writingOf(range)), { width: 1, justified: false }).width / STAFF_UNITS;
  if (ranges.length <= MEASURED_ALONE) return ranges.map(measured);
  const widths = barWidths(bars, write, engraver);
  const summed = ranges.map(({ from, to }) => {
    const head =
      (bars[from] === undefined ? 0 : signatureWidth(bars[from].bar)) + (from === 0 ? METRE_WIDTH : 0);
    return widths.slice(from, to).reduce((sum, width) => sum + width, head);
  });
  const widest = new Set(
    [...summed.keys()].sort((a, b) => (summed[b] ?? 0) - (summed[a] ?? 0)).slice(0, MEASURED_ALONE),
  );
  return ranges.map((range, i) => (widest.has(i) ? measured(range) : (summed[i] ?? 0)));
};

/** The same, of lines that may be known. */
const widthsFrom = (
  known: WidthMemory,
  keys: readonly string[],
  measure: (lines: readonly number[]) => readonly number[],
): readonly number[] => {
  const unknown = [...keys.keys()].filter((i) => !known.has(keys[i] ?? ''));
  const widths = unknown.length === 0 ? [] : measure(unknown);
  unknown.forEach((i, k) => {
    known.set(keys[i] ?? '', widths[k] ?? 0);
  });
  return keys.map((key) => known.get(key) ?? 0);
};

const draw = (
  versions: Versions,
  ranges: readonly Range[],
  engraver: Engraver,
  known: WidthMemory | null,
): readonly Drawing[] => {
  const staffOf = (v: SheetVersion) => ({ id: v.id, name: null, score: withoutChords(v.score) });
  const [first, ...others] = versions;
  const write = meiWriterOf({ title: '', composer: null, staves: [staffOf(first), ...others.map(staffOf)] });
  const natural = widthsFrom(
    known ?? new Map(),
    ranges.map((range, i) => (known === null ? String(i) : widthKey(versions, range))),
    (lines) =>
      naturalWidthsOf(
        lines.flatMap((i) => ranges[i] ?? []),
        barsOf(first.score),
        write,
        engraver,
      ),
  );
  const most = Math.max(...natural);
  const widest = known === null ? most : Math.ceil(most / WIDTH_STEP) * WIDTH_STEP;
  return ranges.map((range, i) =>
    engraver.draw(write(writingOf(range)), {
      width: Math.min(widest, (natural[i] ?? widest) * MOST_STRETCH),
    }),
  );
};

/** A line without its place in the tune. */
type DrawnLine = Omit<ScreenLine, keyof Range>;

/** What was made of a drawing: its document names every note's place, so an equal one has the same line. */
const drawn = new WeakMap<Drawing, DrawnLine>();

const lineOf = (drawing: Drawing, versions: Versions, bars: readonly (readonly PlacedBar[])[]): DrawnLine => {
  const index = new Map(drawing.content.flatMap(elementsOf).map((e) => [e.attributes.id ?? '', e]));
  return {
    width: drawing.width,
    height: drawing.height,
    staves: versions.map((version, v) => ({
      version: version.id,
      top: drawing.staves[v]?.top ?? 0,
      bottom: drawing.staves[v]?.bottom ?? 0,
      notes: notesIn(version.id, bars[v] ?? [], drawing, index),
    })),
    bars: drawing.bars.map(({ left, right }) => ({ left, right })),
    svg: drawing.content.map(writeSvg).join(''),
  };
};

/**
 * Engraves a tune for a screen, without chord symbols: every line for itself, all as wide as the widest needs to be, to be scaled together.
 * @param versions - one, or several under each other
 * @param barsInLine - full bars in a line
 * @param known - where the same tune is drawn again and again while it changes; null: once
 */
export const screenMusic = (
  versions: Versions,
  barsInLine: number,
  engraver: Engraver,
  known: WidthMemory | null = null,
): ScreenMusic => {
  const bars = versions.map((v) => barsOf(v.score));
  const ranges = rangesOf(versions[0].score, barsInLine);
  const drawings = draw(versions, ranges, engraver, known);
  const signs: Record<string, string> = {};
  const lines = ranges.map((range, i): ScreenLine => {
    const drawing = drawings[i] as Drawing;
    for (const [code, path] of drawing.glyphs) signs[glyphId(code)] = path;
    const known = drawn.get(drawing);
    if (known !== undefined) return { ...range, ...known };
    const line = lineOf(
      drawing,
      versions,
      bars.map((all) => all.slice(range.from, range.to)),
    );
    drawn.set(drawing, line);
    return { ...range, ...line };
  });
  return { barsInLine, versions: versions.map((v) => v.id), lines, signs };
};
