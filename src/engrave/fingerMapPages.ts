import {
  type FingerDot,
  type FingerMap,
  fingerMapRemarks,
  fingerMapStrings,
  fingersBeside,
  lastRowOf,
  MAP_STRINGS,
  rowDepth,
  rowName,
} from '../lesson/index.ts';
import { printedName } from '../music/index.ts';
import { footHeight, footLine, heading } from './heading.ts';
import { pageSvg } from './pageSvg.ts';
import { PAPER_SIZES, type Page, SHEET_MEASURES, type SheetPlan } from './sheetPlan.ts';
import { type SvgElement, svg } from './svgTree.ts';
import { textAt, widthOf } from './text.ts';
import { textLines } from './textBlock.ts';

/** Measures of the drawing in points. Ours, looked at in print. */
const BOARD = {
  underHeading: 68,
  /** From the page's left margin to the first string: the fingers' names stand there. */
  names: 92,
  betweenStrings: 50,
  most: 470,
  dot: 11.5,
  string: 1,
  toWords: 44,
};
const NAME = 10.5;
const STRING_NAME = 15;

const stroke = (d: string, width: number, dashes?: string): SvgElement =>
  svg('path', {
    d,
    fill: 'none',
    stroke: '#000',
    'stroke-width': width,
    ...(dashes === undefined ? {} : { 'stroke-dasharray': dashes }),
  });

interface Board {
  readonly left: number;
  readonly top: number;
  /** Height from the nut to the last row. */
  readonly height: number;
  readonly rows: number;
}

const xOf = (board: Board, string: FingerDot['string']): number =>
  board.left + MAP_STRINGS.indexOf(string) * BOARD.betweenStrings;

const yOf = (board: Board, semitones: number): number =>
  semitones === 0 ? board.top - 22 : board.top + board.height * rowDepth(semitones, board.rows);

const right = (board: Board): number => board.left + (MAP_STRINGS.length - 1) * BOARD.betweenStrings;

/** Whether a row is said at the side: those that some note of the map lies on. */
const rowNames = (board: Board, dots: readonly FingerDot[]): readonly SvgElement[] =>
  Array.from({ length: board.rows + 1 }, (_, semitones) => semitones).flatMap((semitones) => {
    if (!dots.some((d) => d.semitones === semitones)) return [];
    const y = yOf(board, semitones);
    const name = rowName(semitones, dots);
    return [
      textAt(board.left - 24, y + NAME * 0.33, name, { size: NAME, anchor: 'end' }),
      ...(semitones === 0
        ? []
        : [stroke(`M${board.left - 16} ${y.toFixed(2)} H${right(board) + 16}`, 0.35, '1.5 2.5')]),
    ];
  });

const dotAt = (dot: FingerDot, dots: readonly FingerDot[], board: Board): readonly SvgElement[] => {
  const [x, y] = [xOf(board, dot.string), yOf(board, dot.semitones)];
  const name = printedName(dot.pitch);
  const size = dot.inTune ? 11.5 : 10;
  const fingers = fingersBeside(dot, dots);
  return [
    svg('circle', {
      cx: x,
      cy: Number(y.toFixed(2)),
      r: dot.inTune ? BOARD.dot : BOARD.dot * 0.82,
      fill: dot.inTune ? '#000' : '#fff',
      stroke: '#000',
      'stroke-width': dot.inTune ? 0 : 0.6,
    }),
    textAt(x, y + size * 0.34, name, {
      size,
      face: dot.inTune ? 'bold' : 'regular',
      anchor: 'middle',
      fill: dot.inTune ? '#fff' : '#000',
    }),
    ...(fingers === '' ? [] : [textAt(x + BOARD.dot + 3, y - 4, fingers, { size: 8.5, face: 'italic' })]),
  ];
};

const strings = (board: Board): readonly SvgElement[] => [
  ...MAP_STRINGS.flatMap((string, i) => {
    const x = xOf(board, string);
    return [
      stroke(`M${x} ${board.top} V${board.top + board.height + 26}`, BOARD.string * (1.9 - i * 0.4)),
      textAt(x, board.top - 42, string, { size: STRING_NAME, face: 'bold', anchor: 'middle' }),
    ];
  }),
  stroke(`M${board.left - 16} ${board.top} H${right(board) + 16}`, 3.2),
];

/** What the two kinds of note mean. */
const legend = (x: number, y: number): readonly SvgElement[] => {
  const words = ['in the tune', 'in the key'] as const;
  const second = x + 14 + widthOf(words[0], NAME) + 18;
  return [
    svg('circle', { cx: x + 5, cy: y - 3.5, r: 5 }),
    textAt(x + 14, y, words[0], { size: NAME }),
    svg('circle', { cx: second + 5, cy: y - 3.5, r: 4.5, fill: '#fff', stroke: '#000', 'stroke-width': 0.6 }),
    textAt(second + 14, y, words[1], { size: NAME }),
  ];
};

/**
 * The finger map: four strings as the player sees them, to scale, the tune's notes black and the key's others white,
 * with what is low, high or stretched said beside it.
 * @returns one page
 */
export const fingerMapPages = (plan: SheetPlan, map: FingerMap): readonly Page[] => {
  const size = PAPER_SIZES[plan.paper];
  const { margin } = SHEET_MEASURES;
  const titled: SheetPlan = { ...plan, subtitle: 'Finger map', tempos: [] };
  const head = heading(titled, size.width);
  const top = margin.top + head.height + BOARD.underHeading;
  const bottom = size.height - margin.bottom - footHeight(plan) - 60;
  const rows = lastRowOf(map.dots);
  const board: Board = {
    left: margin.left + BOARD.names,
    top,
    height: Math.min(BOARD.most, bottom - top),
    rows,
  };
  const wordsAt = right(board) + BOARD.toWords;
  const paragraphs = [
    ...fingerMapRemarks(map, plan.words).map((text) => ({ text })),
    { text: 'String by string', heading: true },
    ...fingerMapStrings(map).map((text) => ({ text })),
  ];
  const words = textLines(plan, paragraphs, size.width - margin.right - wordsAt);
  return [
    pageSvg(size, new Map(), [
      svg('rect', { x: 0, y: 0, width: size.width, height: size.height, fill: '#fff' }),
      ...head.content,
      ...rowNames(board, map.dots),
      ...strings(board),
      ...map.dots.flatMap((dot) => dotAt(dot, map.dots, board)),
      ...legend(wordsAt, top - 42),
      ...words.at(wordsAt, top - 34),
      ...footLine(titled, size, { number: 1, count: 1 }),
    ]),
  ];
};
