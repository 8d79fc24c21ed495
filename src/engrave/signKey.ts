import { glyphId } from './cleanDrawing.ts';
import { zoomOf } from './heading.ts';
import { noteHead } from './noteSign.ts';
import type { SheetPlan } from './sheetPlan.ts';
import type { SignKind } from './signs.ts';
import { type SvgElement, svg } from './svgTree.ts';
import { textAt, widthOf } from './text.ts';

/** An icon of the key: its drawing with its baseline at 0, and how wide it is, in points. */
interface Icon {
  readonly width: number;
  readonly content: readonly SvgElement[];
}

/** Size of the key's words, of its signs (as a staff's height), and its distances, in points. Ours, looked at in print. */
const WORDS = 8.5;
const STAFF = 13;
const LINE = 14;
const GAP = 13;
const ICON_GAP = 3;

const glyph = (code: string, x: number, y: number): SvgElement =>
  svg('use', {
    'xlink:href': `#${glyphId(code)}`,
    transform: `translate(${x} ${y}) scale(${STAFF / 1000})`,
  });

const stroke = (d: string, width: number): SvgElement =>
  svg('path', { d, fill: 'none', stroke: '#000', 'stroke-width': width, 'stroke-linecap': 'round' });

const HEAD = 4.2;
const head = (x: number, y: number, scale = 1): SvgElement => noteHead(x, y, HEAD * scale);
const stem = (x: number, y: number, up: number): SvgElement => stroke(`M${x} ${y} V${y - up}`, 0.6);

const three = (heights: readonly [number, number, number], label: string): Icon => ({
  width: 17,
  content: [
    ...heights.flatMap((y, i) => [head(i * 6, y), stem(i * 6 + HEAD - 0.3, y, y + 7.5)]),
    svg('path', { d: `M${HEAD - 0.6} -8.2 H${12 + HEAD} V-6.6 H${HEAD - 0.6} Z` }),
    textAt(6 + HEAD / 2 + 0.4, -9, label, { size: 5.5, face: 'italic', anchor: 'middle' }),
  ],
});

/** One sign's icon. Signs of the music font are there because the music uses them. */
const iconOf = (kind: SignKind): Icon => {
  switch (kind) {
    case 'downBow':
      return { width: 0.31 * STAFF, content: [glyph('E610', 0, -1)] };
    case 'upBow':
      return { width: 0.28 * STAFF, content: [glyph('E612', 0, -1)] };
    case 'slur':
      return { width: 16, content: [svg('path', { d: 'M0 -1 C4 -6 12 -6 16 -1 C12 -4.8 4 -4.8 0 -1 Z' })] };
    case 'cut':
      return {
        width: 5.5,
        content: [
          head(0, -1.5, 0.75),
          stem(HEAD * 0.75 - 0.2, -1.5, 6.5),
          stroke(`M${HEAD * 0.75 - 0.2} -8 q0.5 1.6 1.8 2.6 q1 0.9 0.4 2.6`, 0.6),
        ],
      };
    case 'roll':
    case 'turn':
      return { width: 0.47 * STAFF, content: [glyph('E567', 0, -1.5)] };
    case 'treble':
      return three([-1.5, -1.5, -1.5], '3');
    case 'run':
      return three([0, -1.6, -3.2], '3');
    case 'slide':
      return { width: 9, content: [stroke('M0 1 C2 0.8 3.6 -0.4 4.2 -2', 0.6), head(4.8, -2.4)] };
    case 'drone':
      return { width: 6, content: [head(0, 0), head(0, -6), stem(HEAD - 0.3, 0, 11)] };
    case 'trill':
      return { width: 0.5 * STAFF, content: [glyph('E566', 0, -1)] };
    case 'finger':
      return { width: 4.5, content: [textAt(0, 0, '1', { size: 7.5 })] };
    case 'second':
      return { width: 9, content: [textAt(0, 0, 'L2', { size: 7.5 })] };
    case 'stayDown':
      return {
        width: 17,
        content: [textAt(0.5, 0, '1', { size: 7.5 }), stroke('M0 -5.2 V-8 H17 V-5.2', 0.6)],
      };
    case 'staccato':
      return { width: 5, content: [head(0, -1), svg('circle', { cx: HEAD / 2, cy: -5.5, r: 0.8 })] };
    case 'accent':
      return { width: 0.35 * STAFF, content: [glyph('E4A0', 0, -1)] };
    case 'fermata':
      return { width: 0.6 * STAFF, content: [glyph('E4C0', 0, -0.5)] };
    default:
      return kind satisfies never;
  }
};

const meaningOf = (kind: SignKind, plan: SheetPlan): string => {
  const { ornaments } = plan;
  const meanings: Readonly<Record<SignKind, string>> = {
    downBow: 'down-bow',
    upBow: 'up-bow',
    slur: 'in one bow',
    cut: ornaments.cut,
    roll: ornaments.roll,
    treble: `${ornaments.treble}: three short strokes`,
    run: ornaments.run,
    slide: 'slide up into the note',
    drone: 'two strings together',
    turn: 'turn',
    trill: 'trill',
    finger: 'finger, 0 open string',
    second: 'low second finger, H2 high',
    stayDown: 'finger stays down',
    staccato: 'short',
    accent: 'accent',
    fermata: 'hold',
  };
  return meanings[kind];
};

/** The key to the signs as a block of lines. */
export interface SignKey {
  readonly height: number;
  /** Drawn from `y` downwards. */
  readonly at: (x: number, y: number) => readonly SvgElement[];
}

/**
 * The key to the signs: each that occurs, with what it means, in as many lines as the width asks for.
 * @param kinds - empty: the key is empty and has no height
 * @param fullWidth - in points
 */
export const signKey = (kinds: readonly SignKind[], plan: SheetPlan, fullWidth: number): SignKey => {
  const zoom = zoomOf(plan);
  const width = fullWidth / zoom;
  let line = 0;
  let x = 0;
  const items = kinds.map((kind) => {
    const icon = iconOf(kind);
    const meaning = meaningOf(kind, plan);
    const itemWidth = icon.width + ICON_GAP + widthOf(meaning, WORDS);
    if (x > 0 && x + itemWidth > width) {
      line += 1;
      x = 0;
    }
    const item = { icon, meaning, x, line };
    x += itemWidth + GAP;
    return item;
  });
  return {
    height: kinds.length === 0 ? 0 : (line + 1) * LINE * zoom,
    at: (left, top) =>
      items.map(({ icon, meaning, x: at, line: n }) =>
        svg(
          'g',
          {
            transform: `translate(${left + at * zoom} ${top + (n * LINE + LINE - 4) * zoom}) scale(${zoom})`,
          },
          [...icon.content, textAt(icon.width + ICON_GAP, 0, meaning, { size: WORDS })],
        ),
      ),
  };
};
