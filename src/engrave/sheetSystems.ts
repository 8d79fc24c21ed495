import { type MeiDocument, meiWriterOf } from '../notation/index.ts';
import { barsOf } from '../score/index.ts';
import { barWidths, LINE_WRITING } from './barWidths.ts';
import { type Drawing, STAFF_UNITS } from './drawing.ts';
import type { Engraver } from './engraver.ts';
import { withLineBows } from './lineBows.ts';
import type { SystemHeights } from './pageFill.ts';
import type { SheetPlan } from './sheetPlan.ts';
import { type SystemRange, systemRanges } from './systems.ts';
import { widthOf } from './text.ts';

/** A system ready for the page. */
export interface SheetSystem {
  readonly range: SystemRange;
  readonly drawing: Drawing;
}

/** Size of a version's name before its staff as a share of the staff, and the room around it. See `TEXT_KINDS`. */
const LABEL_SIZE = 0.51;
const LABEL_ROOM = 0.6;
/** A line of one or two bars is stretched so far at most. Ours. */
const SHORT_LINE_STRETCH = 1.5;
const SHORT_LINE_BARS = 2;
/** The engraving program leaves this much free over and under a system, in drawing units. */
const EDGE = 100;

/** The plan's versions as one MEI document; names stand before the staves where there are several. */
const documentOf = (
  plan: SheetPlan,
  { withNames, ranges }: { readonly withNames: boolean; readonly ranges: readonly SystemRange[] },
): MeiDocument => {
  const staffOf = (v: SheetPlan['versions'][number]) => ({
    id: v.id,
    name: withNames && plan.versions.length > 1 ? v.name : null,
    score: withLineBows(v, ranges),
    ...(v.hands === undefined ? {} : { hands: v.hands }),
  });
  const [first, ...others] = plan.versions;
  return { title: plan.title, composer: null, staves: [staffOf(first), ...others.map(staffOf)] };
};

/** Natural width of each written bar in staff heights, clef and signature not counted. */
export const naturalWidths = (plan: SheetPlan, engraver: Engraver): readonly number[] =>
  barWidths(
    barsOf(plan.versions[0].score),
    meiWriterOf(documentOf(plan, { withNames: false, ranges: [] })),
    engraver,
  );

/** Room that names before the staves take, in staff heights. */
const labelWidth = (plan: SheetPlan): number =>
  plan.versions.length < 2
    ? 0
    : Math.max(...plan.versions.map((v) => widthOf(v.name, LABEL_SIZE, 'italic'))) + LABEL_ROOM;

/** Which bars stand in which line when a line is `width` staff heights wide. */
export const rangesFor = (
  plan: SheetPlan,
  widths: readonly number[],
  width: number,
): readonly SystemRange[] => systemRanges(plan.versions[0].score, widths, width - labelWidth(plan));

/** How lines are drawn. */
interface DrawnWidth {
  readonly engraver: Engraver;
  /** Of a line, in staff heights. */
  readonly width: number;
  /** Whether the first line says the metre; default true. */
  readonly metre?: boolean;
}

/** Draws each line as one system, filled to the width; a line of one or two bars is not pulled apart. */
export const drawSystems = (
  plan: SheetPlan,
  ranges: readonly SystemRange[],
  { engraver, width, metre = true }: DrawnWidth,
): readonly SheetSystem[] => {
  const write = meiWriterOf(documentOf(plan, { withNames: true, ranges }));
  return ranges.map((range) => {
    const short = range.to - range.from <= SHORT_LINE_BARS;
    const most = labelWidth(plan) + range.width * SHORT_LINE_STRETCH;
    const options = { width: short ? Math.min(width, most) : width };
    const draw = (raisesChords: boolean): Drawing => {
      const { from, to } = range;
      const mei = write({
        ...LINE_WRITING,
        range: { from, to },
        printsMetre: metre && from === 0,
        raisesChords,
      });
      return engraver.draw(mei, options);
    };
    const drawing = draw(false);
    return { range, drawing: drawing.chordsMeetBracket ? draw(true) : drawing };
  });
};

/** A drawn system's heights in points at a staff size. */
export const heightsOf = ({ drawing }: SheetSystem, staff: number): SystemHeights => {
  const scale = staff / STAFF_UNITS;
  const top = drawing.staves[0]?.top ?? 0;
  const bottom = drawing.staves.at(-1)?.bottom ?? 0;
  return {
    above: Math.max(0, top - EDGE) * scale,
    extent: (bottom - top) * scale,
    below: Math.max(0, drawing.height - bottom - EDGE) * scale,
  };
};
