import { NUMBER_CLASS, withFreeNumbers } from './barNumbers.ts';
import { elementsOf, type SvgElement, type SvgNode, svg } from './svgTree.ts';
import { type Face, textAt, widthOf } from './text.ts';

/** How words of each kind are set, sizes in drawing units. Ours, looked at in print. */
const TEXT_KINDS: Readonly<Record<string, { readonly face: Face; readonly size?: number }>> = {
  harm: { face: 'bold', size: 370 },
  mNum: { face: 'italic', size: 290 },
  fing: { face: 'regular', size: 270 },
  voltaBracket: { face: 'regular', size: 330 },
  reh: { face: 'bold', size: 420 },
  dir: { face: 'italic', size: 340 },
  repeatMark: { face: 'italic', size: 360 },
  tempo: { face: 'bold' },
  label: { face: 'italic', size: 370 },
  verse: { face: 'regular', size: 370 },
};
/** Kinds of elements that keep their name in our drawings, for those who look a note up. */
const KEPT_CLASSES = ['note', 'chord', 'rest', 'mRest', 'measure'];
const DROPPED = ['desc', 'style', 'title', 'defs'];
const SHAPES = ['path', 'polygon', 'polyline', 'rect', 'ellipse', 'circle', 'line'];
const USUAL_SIZE = 405;

/** Accidentals that the engraving program puts into text, and the signs that text knows. Source: SMuFL 1.4 (standard and figured-bass accidentals); Unicode. */
const TEXT_SIGNS: Readonly<Record<string, string>> = {
  '\uE260': '♭',
  '\uE261': '♮',
  '\uE262': '♯',
  '\uEA64': '♭',
  '\uEA65': '♮',
  '\uEA66': '♯',
};

/** A bar's number ends just behind its bar line, clear of a chord over the first note; the first of a line is centred over it. Ours. */
const NUMBER_SHIFT = 95;
const FIRST_NUMBER = 200;

interface Context {
  readonly kind: string | null;
  /** The whole drawing, to look a sign's note up. */
  readonly root: SvgElement;
}

const classesOf = (element: SvgElement): readonly string[] => (element.attributes.class ?? '').split(' ');

const contentOf = (node: SvgNode): string =>
  typeof node === 'string' ? node : node.children.map(contentOf).join('');

const largestSize = (element: SvgElement): number => {
  const sizes = elementsOf(element)
    .filter((e) => e.attributes['font-family'] === undefined)
    .map((e) => Number.parseFloat(e.attributes['font-size'] ?? '0'));
  const largest = Math.max(0, ...sizes);
  return largest === 0 ? USUAL_SIZE : largest;
};

const markedNumber = (text: SvgElement): SvgElement => ({
  ...text,
  attributes: { ...text.attributes, class: NUMBER_CLASS },
});

const textOf = (element: SvgElement, context: Context): readonly SvgElement[] => {
  const text = contentOf(element).replace(/[\uE260-\uEA66]/g, (c) => TEXT_SIGNS[c] ?? c);
  if (text.trim() === '') return [];
  const style = TEXT_KINDS[context.kind ?? ''];
  const size = style?.size ?? largestSize(element);
  const face = style?.face ?? 'regular';
  const x = Number(element.attributes.x ?? 0);
  const y = Number(element.attributes.y ?? 0);
  if (context.kind === 'mNum' && x > FIRST_NUMBER) {
    const right = x + Math.min(NUMBER_SHIFT, widthOf(text.trim(), size, face) / 2);
    return [markedNumber(textAt(right, y, text.trim(), { size, face, anchor: 'end' }))];
  }
  const anchor = element.attributes['text-anchor'];
  const placed = textAt(x, y, text.trim(), {
    size,
    face,
    anchor: anchor === 'middle' || anchor === 'end' ? anchor : 'start',
  });
  return [context.kind === 'mNum' ? markedNumber(placed) : placed];
};

const glyphCode = (use: SvgElement): string =>
  /#([0-9A-F]+)/.exec(use.attributes.href ?? use.attributes['xlink:href'] ?? '')?.[1] ?? '';

/** Id of a musical sign's outline in a page. */
export const glyphId = (code: string): string => `sign-${code}`;

const numbersIn = (text: string | undefined): readonly number[] =>
  (text ?? '').match(/-?\d+(?:\.\d+)?/g)?.map(Number) ?? [];

const glyphPlaceOf = (element: SvgElement): SvgElement => {
  const [x = 0, y = 0, scale = 1] = numbersIn(element.attributes.transform);
  return svg('use', {
    'xlink:href': `#${glyphId(glyphCode(element))}`,
    transform: `translate(${x} ${y}) scale(${scale})`,
  });
};

const shapeOf = (element: SvgElement): SvgElement => {
  const { 'fill-opacity': opacity, ...rest } = element.attributes;
  return svg(element.name, {
    ...rest,
    ...(opacity === '0' ? { fill: 'none' } : {}),
    ...(rest['stroke-width'] === undefined ? {} : { stroke: '#000' }),
  });
};

/** Left edge and height of the leftmost head or accidental of a note. */
const headOf = (root: SvgElement, id: string): { readonly x: number; readonly y: number } | null => {
  const note = elementsOf(root).find((e) => e.attributes.id === id);
  const uses = note === undefined ? [] : elementsOf(note).filter((e) => e.name === 'use');
  const places = uses
    .filter((u) => /^E(?:0A|26)/.test(glyphCode(u)))
    .map((u) => numbersIn(u.attributes.transform));
  const xs = places.map((p) => p[0] ?? 0);
  const heads = uses
    .filter((u) => glyphCode(u).startsWith('E0A'))
    .map((u) => numbersIn(u.attributes.transform)[1] ?? 0);
  return xs.length === 0 || heads.length === 0 ? null : { x: Math.min(...xs), y: Math.max(...heads) };
};

/** A slide: a short stroke up into the head. Ours; drawn at the note, where fiddlers look for it. */
const slideOf = (id: string, root: SvgElement): readonly SvgElement[] => {
  const head = headOf(root, id.slice('slide-'.length));
  if (head === null) return [];
  const { x, y } = head;
  const d = `M${x - 150} ${y + 175} C${x - 110} ${y + 160} ${x - 55} ${y + 95} ${x - 22} ${y + 15}`;
  return [
    svg('path', { id, d, fill: 'none', stroke: '#000', 'stroke-width': 32, 'stroke-linecap': 'round' }),
  ];
};

const kindOf = (classes: readonly string[], outer: string | null): string | null =>
  classes.find((c) => c in TEXT_KINDS) ?? outer;

const groupOf = (element: SvgElement, context: Context): readonly SvgElement[] => {
  const classes = classesOf(element);
  const { id } = element.attributes;
  if (classes.includes('ornam') && id?.startsWith('slide-') === true) return slideOf(id, context.root);
  const children = element.children.flatMap((c) =>
    cleanedNode(c, { ...context, kind: kindOf(classes, context.kind) }),
  );
  if (children.length === 0) return [];
  // The engraving program's own ids have no hyphen; ours always do.
  if (id === undefined || !id.includes('-')) return children;
  const kept = classes.find((c) => KEPT_CLASSES.includes(c));
  return [svg('g', { id, class: kept }, children)];
};

const cleanedNode = (node: SvgNode, context: Context): readonly SvgElement[] => {
  if (typeof node === 'string' || DROPPED.includes(node.name)) return [];
  if (node.name === 'text') return textOf(node, context);
  if (node.name === 'use') return [glyphPlaceOf(node)];
  if (SHAPES.includes(node.name)) return [shapeOf(node)];
  return groupOf(node, context);
};

/** The drawing's content with our styles written into it, moved by the page's margin. */
export const cleaned = (
  page: SvgElement,
  { dx, dy }: { readonly dx: number; readonly dy: number },
): readonly SvgElement[] => {
  const content = withFreeNumbers(page.children.flatMap((c) => cleanedNode(c, { kind: null, root: page })));
  return dx === 0 && dy === 0 ? content : [svg('g', { transform: `translate(${dx} ${dy})` }, content)];
};
