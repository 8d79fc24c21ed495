import { PAPER_SIZES, SHEET_MEASURES, type SheetPlan } from './sheetPlan.ts';
import type { SvgElement } from './svgTree.ts';
import { textAt, wrapped } from './text.ts';

/** A paragraph under a grid or beside a map. */
export interface Paragraph {
  readonly text: string;
  /** Stands before it in bold, in a column of its own: "1". */
  readonly label?: string;
  /** Set in bold, with space above. */
  readonly heading?: boolean;
}

/** A block of text to be put on a page. */
export interface TextBlock {
  readonly height: number;
  readonly at: (left: number, top: number) => readonly SvgElement[];
}

/** Sizes in points. Ours, looked at in print. */
const SIZE = 11;
const LEADING = 15;
const BETWEEN = 4;
const ABOVE = 14;
const LABEL_COLUMN = 20;

/**
 * Paragraphs as a block, broken to a width.
 * @param width - in points; the page's text width when absent
 * @returns a block of no height when there are none
 */
export const textLines = (
  plan: SheetPlan,
  paragraphs: readonly Paragraph[],
  width: number = PAPER_SIZES[plan.paper].width - SHEET_MEASURES.margin.left - SHEET_MEASURES.margin.right,
): TextBlock => {
  let y = ABOVE;
  const drawn = paragraphs.map(({ text, label, heading = false }, i) => {
    const face = heading ? 'bold' : 'regular';
    const indent = label === undefined ? 0 : LABEL_COLUMN;
    if (i > 0) y += heading ? LEADING * 0.6 : BETWEEN;
    const lines = wrapped(text, width - indent, { size: SIZE, face }).map((line) => {
      y += LEADING;
      return { line, y, indent, face } as const;
    });
    return { lines, label };
  });
  return {
    height: paragraphs.length === 0 ? 0 : y,
    at: (left, top) =>
      drawn.flatMap(({ lines, label }) => [
        ...(label === undefined
          ? []
          : [textAt(left, top + (lines[0]?.y ?? 0), label, { size: SIZE, face: 'bold' })]),
        ...lines.map((l) => textAt(left + l.indent, top + l.y, l.line, { size: SIZE, face: l.face })),
      ]),
  };
};
