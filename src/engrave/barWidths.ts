import type { meiWriterOf } from '../notation/index.ts';
import type { PlacedBar } from '../score/index.ts';
import { STAFF_UNITS } from './drawing.ts';
import type { Engraver } from './engraver.ts';
import { signatureWidth } from './systems.ts';

/** Bars that are drawn at once to learn their natural widths. Ours. */
const MEASURED_AT_ONCE = 40;

/** How the engraving program is asked for a line of unknown width. */
export const LINE_WRITING = { labelsParts: false, writesTempo: false, oneSystem: true } as const;

/**
 * Natural width of each written bar in staff heights, clef and signature not counted.
 *
 * Many bars are drawn as one line: that takes a quarter of the time of drawing each, and gives the same widths.
 * @param bars - of the top staff
 * @param write - writes ranges of these bars
 */
export const barWidths = (
  bars: readonly PlacedBar[],
  write: ReturnType<typeof meiWriterOf>,
  engraver: Engraver,
): readonly number[] => {
  const widths: number[] = [];
  for (let from = 0; from < bars.length; from += MEASURED_AT_ONCE) {
    const range = { from, to: Math.min(bars.length, from + MEASURED_AT_ONCE) };
    const mei = write({ ...LINE_WRITING, range, printsMetre: false });
    const drawing = engraver.draw(mei, { width: 1, justified: false });
    drawing.bars.forEach((drawn, i) => {
      const width = (drawn.right - drawn.left) / STAFF_UNITS;
      const bar = bars[from + i]?.bar;
      widths.push(i === 0 && bar !== undefined ? Math.max(1, width - signatureWidth(bar)) : width);
    });
  }
  return widths;
};
