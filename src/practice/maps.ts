import type { PracticeMaps } from '../lesson/index.ts';
import { make } from './element.ts';
import type { Wording } from './words.ts';

const SVG = 'http://www.w3.org/2000/svg';

type Attributes = Readonly<Record<string, string | number>>;

const draw = (name: string, attributes: Attributes, ...children: readonly (Node | string)[]): SVGElement => {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  element.append(...children);
  return element;
};

/** Measures of the small finger map in its own units. Ours, looked at on a phone. */
const BOARD = { width: 300, nut: 52, height: 250, left: 110, between: 50, dot: 11, open: 20, foot: 16 };

const xOf = (string: number): number => BOARD.left + string * BOARD.between;
const yOf = (depth: number): number =>
  depth === 0 ? BOARD.nut - BOARD.open : BOARD.nut + depth * BOARD.height;

const boardOf = ({ strings, rows, dots }: PracticeMaps['fingers']): SVGElement => {
  const right = xOf(strings.length - 1);
  const bottom = BOARD.nut + BOARD.height + BOARD.foot;
  const across = (y: number): string => `M${BOARD.left - 16} ${y}H${right + 16}`;
  return draw(
    'svg',
    { viewBox: `0 0 ${BOARD.width} ${bottom + 2}`, 'aria-hidden': 'true', class: 'board' },
    ...rows
      .filter(({ depth }) => depth > 0)
      .map(({ depth }) => draw('path', { d: across(yOf(depth)), class: 'row-line' })),
    ...rows.map(({ depth, name }) =>
      draw('text', { x: BOARD.left - 22, y: yOf(depth) + 4, class: 'row-name' }, name),
    ),
    ...strings.flatMap((name, i) => [
      draw('path', {
        d: `M${xOf(i)} ${BOARD.nut}V${bottom}`,
        class: 'string',
        'stroke-width': 2.4 - i * 0.5,
      }),
      draw('text', { x: xOf(i), y: 14, class: 'string-name' }, name),
    ]),
    draw('path', { d: across(BOARD.nut), class: 'nut' }),
    ...dots.map(({ string, depth, name, fingers, inTune }) =>
      draw(
        'g',
        { class: inTune ? 'dot in-tune' : 'dot' },
        draw('circle', { cx: xOf(string), cy: yOf(depth), r: inTune ? BOARD.dot : BOARD.dot * 0.82 }),
        draw('text', { x: xOf(string), y: yOf(depth) + 3.6, class: 'dot-name' }, name),
        ...(fingers === ''
          ? []
          : [draw('text', { x: xOf(string) + BOARD.dot + 2, y: yOf(depth) - 4, class: 'beside' }, fingers)]),
      ),
    ),
  );
};

const legend = (words: Wording): HTMLElement =>
  make(
    'p',
    { class: 'quiet legend', attributes: { 'aria-hidden': 'true' } },
    make('span', { class: 'spot in-tune' }),
    `${words.inTune} `,
    make('span', { class: 'spot' }),
    words.inKey,
  );

const folded = (id: string, title: string, ...children: readonly (Node | string)[]): HTMLElement =>
  make(
    'section',
    { attributes: { id } },
    make('details', {}, make('summary', {}, make('h2', { class: 'folded' }, title)), ...children),
  );

const boxesOf = ({ parts }: PracticeMaps['phrases'], words: Wording): readonly HTMLElement[] =>
  parts.map(({ label, boxes }) =>
    make(
      'div',
      { class: 'phrases', attributes: { 'aria-hidden': 'true' } },
      ...(parts.length > 1 ? [make('p', { class: 'quiet' }, words.part(label))] : []),
      make(
        'div',
        { class: 'boxes' },
        ...boxes.map(({ number, step, known, words: like }) =>
          make(
            'div',
            { class: known ? 'box known' : 'box' },
            make('span', { class: 'number' }, String(number)),
            ...(known ? [] : [make('b', {}, String(step))]),
            ...like.map((text) => make('span', { class: 'like' }, text)),
          ),
        ),
      ),
    ),
  );

/** The finger map and the phrase map, each folded away until it is asked for. What is drawn is said in words too. */
export const mapSections = ({ fingers, phrases }: PracticeMaps, words: Wording): readonly HTMLElement[] => [
  folded(
    'finger-map',
    words.fingerMap,
    boardOf(fingers),
    legend(words),
    ...fingers.remarks.map((text) => make('p', {}, text)),
    make('ul', {}, ...fingers.byString.map((text) => make('li', {}, text))),
  ),
  folded(
    'phrase-map',
    words.phraseMap,
    make('p', {}, phrases.summary),
    ...boxesOf(phrases, words),
    make('p', { class: 'quiet', attributes: { 'aria-hidden': 'true' } }, words.boxesMean),
    make('ol', {}, ...phrases.steps.map((text) => make('li', {}, text))),
  ),
];
