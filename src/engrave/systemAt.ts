import { STAFF_UNITS } from './drawing.ts';
import { SHEET_MEASURES } from './sheetPlan.ts';
import type { SheetSystem } from './sheetSystems.ts';
import { type SvgElement, svg } from './svgTree.ts';
import { textAt, widthOf, wrapped } from './text.ts';

/** The letter before a part, in points. Ours, looked at in print. */
const PART_LETTER = 15;
const PART_LETTER_GAP = 9;
const PART_NAME = { size: 8, lines: 3, edge: 8 };

/** A part's letter before its first line, its middle at `y`; a longer name is set small, in up to three lines. */
const partLetter = (label: string, right: number, y: number): readonly SvgElement[] => {
  const room = right - PART_NAME.edge;
  const short = widthOf(label, PART_LETTER, 'bold') <= room;
  const style = { size: short ? PART_LETTER : PART_NAME.size, face: 'bold' } as const;
  const lines = short ? [label] : wrapped(label, room, style).slice(0, PART_NAME.lines);
  return lines.map((line, i) =>
    textAt(right, y + style.size * (0.33 + (i - (lines.length - 1) / 2) * 1.1), line, {
      ...style,
      anchor: 'end',
    }),
  );
};

/** A system as it stands on the page, its part's letter before it. */
export const systemAt = (system: SheetSystem, staff: number, topLine: number): SvgElement => {
  const { drawing, range } = system;
  const scale = staff / STAFF_UNITS;
  const top = drawing.staves[0]?.top ?? 0;
  const left = SHEET_MEASURES.margin.left;
  return svg('g', {}, [
    ...(range.part === null ? [] : partLetter(range.part, left - PART_LETTER_GAP, topLine + staff / 2)),
    svg(
      'g',
      { transform: `translate(${left} ${(topLine - top * scale).toFixed(2)}) scale(${scale.toFixed(5)})` },
      [...drawing.content],
    ),
  ]);
};
