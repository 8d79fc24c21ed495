import type { WholeNotes } from '../core/index.ts';
import { type SvgElement, svg } from './svgTree.ts';

/** Shape of a head: its height to its width, its tilt in degrees, and how much of it a minim's hole takes. Ours. */
const HEAD_SHAPE = 0.72;
const TILT = -22;
const HOLE = 0.62;

/**
 * A filled note head, drawn and not set, so that it is there whatever fonts a reader has.
 * @param x - its left edge
 * @param y - its middle
 */
export const noteHead = (x: number, y: number, width: number): SvgElement =>
  svg('ellipse', {
    cx: 0,
    cy: 0,
    rx: width * 0.5,
    ry: width * 0.5 * HEAD_SHAPE,
    transform: `translate(${x + width / 2} ${y}) rotate(${TILT})`,
  });

const hole = (x: number, y: number, width: number): SvgElement =>
  svg('ellipse', {
    cx: 0,
    cy: 0,
    rx: width * 0.44,
    ry: width * 0.5 * HEAD_SHAPE * HOLE,
    fill: '#fff',
    transform: `translate(${x + width / 2} ${y}) rotate(${TILT * 1.6})`,
  });

/** A drawn note value with the width that it takes. */
export interface NoteSign {
  readonly width: number;
  readonly content: readonly SvgElement[];
}

/**
 * A note value as a sign in a line of text: semibreve to semiquaver, plain or dotted.
 * @param beat - other lengths are drawn as the nearest of these
 * @param x - its left edge
 * @param y - the text's baseline
 * @param size - the text's size
 */
export const noteSign = (beat: WholeNotes, x: number, y: number, size: number): NoteSign => {
  const dotted = beat.num === 3;
  const part = dotted ? beat.den / 2 : beat.den / beat.num;
  const width = size * 0.52;
  const middle = y - size * 0.17;
  const top = y - size * 0.98;
  const right = x + width - size * 0.03;
  const content: SvgElement[] = [noteHead(x, middle, width)];
  if (part < 4) content.push(hole(x, middle, width));
  if (part > 1)
    content.push(
      svg('path', { d: `M${right} ${middle} V${top}`, stroke: '#000', 'stroke-width': size * 0.06 }),
    );
  const flags = part >= 16 ? 2 : part >= 8 ? 1 : 0;
  for (let i = 0; i < flags; i += 1) {
    const from = top + i * size * 0.22;
    content.push(
      svg('path', {
        d: `M${right} ${from} q${size * 0.04} ${size * 0.16} ${size * 0.18} ${size * 0.28} q${size * 0.12} ${size * 0.12} ${size * 0.04} ${size * 0.26}`,
        fill: 'none',
        stroke: '#000',
        'stroke-width': size * 0.07,
      }),
    );
  }
  const flagWidth = flags > 0 ? size * 0.22 : 0;
  if (dotted)
    content.push(
      svg('circle', { cx: x + width + flagWidth * 0.6 + size * 0.14, cy: middle, r: size * 0.07 }),
    );
  return { width: width + flagWidth + (dotted ? size * 0.24 : 0), content };
};
