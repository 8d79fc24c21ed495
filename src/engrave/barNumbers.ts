import { elementsOf, type SvgElement } from './svgTree.ts';
import { widthOf } from './text.ts';

/** A rectangle that something covers, in drawing units, y downwards. */
interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Half the size of what is around a sign's origin: a head, an accidental, a bow sign. Ours: from the Leipzig font, rounded up. */
const HEAD = { width: 240, half: 100 };
const SIGN = { width: 340, above: 260, below: 20 };
/** Letters over their baseline, and the air that a number wants around itself. Ours. */
const LETTER_HEIGHT = 0.7;
const AIR = 28;
/** Curves are looked at in so many points. Ours. */
const SAMPLES = 8;

const numbers = (text: string | undefined): readonly number[] =>
  (text ?? '').match(/-?\d+(?:\.\d+)?/g)?.map(Number) ?? [];

const around = (points: readonly (readonly [number, number])[]): Box => ({
  left: Math.min(...points.map((p) => p[0])),
  right: Math.max(...points.map((p) => p[0])),
  top: Math.min(...points.map((p) => p[1])),
  bottom: Math.max(...points.map((p) => p[1])),
});

const pairs = (values: readonly number[]): readonly (readonly [number, number])[] =>
  Array.from({ length: Math.floor(values.length / 2) }, (_, i) => [
    values[2 * i] ?? 0,
    values[2 * i + 1] ?? 0,
  ]);

/** A curve or a slanted beam as small boxes, so that the air beside it stays free. */
const alongCurve = (d: string): readonly Box[] => {
  const [a, b, c, e] = pairs(numbers(d));
  if (a === undefined || b === undefined) return [];
  if (c === undefined || e === undefined || !d.includes('C')) return [around([a, b])];
  const at = (t: number): [number, number] => {
    const weights = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t ** 2 * (1 - t), t ** 3];
    const mix = (axis: 0 | 1): number =>
      [a, b, c, e].reduce((sum, point, i) => sum + point[axis] * (weights[i] ?? 0), 0);
    return [mix(0), mix(1)];
  };
  return Array.from({ length: SAMPLES }, (_, i) => around([at(i / SAMPLES), at((i + 1) / SAMPLES)]));
};

const alongBeam = (points: string): readonly Box[] => {
  const corners = pairs(numbers(points));
  const { left, right, top, bottom } = around(corners);
  const onLeft = corners.filter((p) => p[0] === left).map((p) => p[1]);
  const onRight = corners.filter((p) => p[0] === right).map((p) => p[1]);
  if (onLeft.length === 0 || onRight.length === 0) return [{ left, right, top, bottom }];
  const [from, to] = [Math.min(...onLeft), Math.min(...onRight)];
  const thick = Math.max(...onLeft) - from;
  return Array.from({ length: SAMPLES }, (_, i) => {
    const [y1, y2] = [from + ((to - from) * i) / SAMPLES, from + ((to - from) * (i + 1)) / SAMPLES];
    const step = (right - left) / SAMPLES;
    return {
      left: left + step * i,
      right: left + step * (i + 1),
      top: Math.min(y1, y2),
      bottom: Math.max(y1, y2) + thick,
    };
  });
};

const boxesOf = (element: SvgElement): readonly Box[] => {
  const { attributes } = element;
  if (element.name === 'use') {
    const [x = 0, y = 0] = numbers(attributes.transform);
    const head = /E0A/.test(attributes['xlink:href'] ?? '');
    return head
      ? [{ left: x, right: x + HEAD.width, top: y - HEAD.half, bottom: y + HEAD.half }]
      : [{ left: x, right: x + SIGN.width, top: y - SIGN.above, bottom: y + SIGN.below }];
  }
  if (element.name === 'polygon') return alongBeam(attributes.points ?? '');
  if (element.name === 'path') return alongCurve(attributes.d ?? '');
  if (element.name === 'text') {
    const size = Number(attributes['font-size']);
    const [x, y] = [Number(attributes.x), Number(attributes.y)];
    const text = element.children.filter((c): c is string => typeof c === 'string').join('');
    const face = attributes['font-weight'] === 'bold' ? 'bold' : 'regular';
    return [{ left: x, right: x + widthOf(text, size, face), top: y - size * LETTER_HEIGHT, bottom: y }];
  }
  return [];
};

const meets = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

/** What a number could run into: everything but the numbers and the staves' own lines. */
const obstaclesIn = (content: readonly SvgElement[], isNumber: (e: SvgElement) => boolean): readonly Box[] =>
  content
    .flatMap(elementsOf)
    .filter((e) => !isNumber(e))
    .flatMap(boxesOf);

/** Class that marks bar numbers in a drawing. */
export const NUMBER_CLASS = 'bar-number';

const isNumber = (element: SvgElement): boolean => element.attributes.class === NUMBER_CLASS;

const grown = (box: Box): Box => ({
  left: box.left - AIR,
  right: box.right + AIR,
  top: box.top - AIR,
  bottom: box.bottom + AIR,
});

const moved = (number: SvgElement, dx: number, dy: number): SvgElement => ({
  ...number,
  attributes: {
    ...number.attributes,
    x: String(Math.round(Number(number.attributes.x) + dx)),
    y: String(Math.round(Number(number.attributes.y) + dy)),
  },
});

/** How far a number gives way to the left of its bar line before it is raised, in steps of drawing units. Ours. */
const ASIDE = [0, -45, -90, -135, -180];

/** A number where it touches nothing: a little to the left where that is enough, else above what is in its way. */
const freed = (number: SvgElement, obstacles: readonly Box[]): SvgElement => {
  const [own] = boxesOf(number);
  if (own === undefined) return number;
  for (const dx of ASIDE) {
    const wanted = grown({ ...own, left: own.left + dx, right: own.right + dx });
    if (!obstacles.some((o) => meets(o, wanted))) return moved(number, dx, 0);
  }
  let dy = 0;
  for (let tries = 0; tries < SAMPLES; tries += 1) {
    const wanted = grown({ ...own, top: own.top + dy, bottom: own.bottom + dy });
    const hit = obstacles.filter((o) => meets(o, wanted));
    if (hit.length === 0) break;
    dy -= wanted.bottom + 1 - Math.min(...hit.map((o) => o.top));
  }
  return moved(number, 0, dy);
};

/**
 * Bar numbers moved until they touch nothing: the engraving program minds the bar that a number belongs to, not the end
 * of the one before it.
 */
export const withFreeNumbers = (content: readonly SvgElement[]): readonly SvgElement[] => {
  const obstacles = obstaclesIn(content, isNumber);
  const walk = (element: SvgElement): SvgElement => {
    if (isNumber(element)) return freed(element, obstacles);
    return { ...element, children: element.children.map((c) => (typeof c === 'string' ? c : walk(c))) };
  };
  return content.map(walk);
};
