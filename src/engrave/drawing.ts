import { chordsMeetBracket } from './brackets.ts';
import { cleaned } from './cleanDrawing.ts';
import { elementsOf, hasClass, type SvgElement } from './svgTree.ts';

/** Units of a drawing from a staff's lowest to its highest line. */
export const STAFF_UNITS = 720;

/** Where a bar lies in a drawing. */
export interface DrawnBar {
  /** As `barIdOf` makes it. */
  readonly id: string;
  readonly left: number;
  readonly right: number;
}

/** One system as drawn, in units of which a staff's height has `STAFF_UNITS`. */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly content: readonly SvgElement[];
  /** Outlines of the musical signs that it uses, by code ("E0A4"). */
  readonly glyphs: ReadonlyMap<string, string>;
  /** Highest and lowest line of each staff, top staff first. */
  readonly staves: readonly { readonly top: number; readonly bottom: number }[];
  readonly bars: readonly DrawnBar[];
  /** How many lines of music it is: one, unless the document asks for more. */
  readonly systems: number;
  /** Whether a chord symbol stands where a bracket goes. */
  readonly chordsMeetBracket: boolean;
  /** Left edge of the music, after names and brackets. */
  readonly left: number;
}

const find = (root: SvgElement, name: string): SvgElement => {
  const found = elementsOf(root).find((e) => e.name === name);
  if (found === undefined) throw new RangeError(`the drawing has no ${name}`);
  return found;
};

const glyphsOf = (root: SvgElement): ReadonlyMap<string, string> =>
  new Map(
    find(root, 'svg')
      .children.flatMap((c) => (typeof c !== 'string' && c.name === 'defs' ? c.children : []))
      .flatMap((glyph): [string, string][] => {
        if (typeof glyph === 'string') return [];
        const code = /^[0-9A-F]+/.exec(glyph.attributes.id ?? '')?.[0];
        const path = elementsOf(glyph).find((e) => e.name === 'path')?.attributes.d;
        return code === undefined || path === undefined ? [] : [[code, path]];
      }),
  );

interface Line {
  readonly x1: number;
  readonly x2: number;
  readonly y: number;
}

const staffLine = (path: string): Line | null => {
  const [x1, y, x2, y2] = (path.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);
  return x1 === undefined || y === undefined || x2 === undefined || y !== y2 ? null : { x1, x2, y };
};

/** The lines of the staves in one bar, top staff first. */
const linesIn = (measure: SvgElement, shift: number): readonly (readonly Line[])[] =>
  elementsOf(measure)
    .filter((e) => hasClass(e, 'staff'))
    .map((staff) =>
      staff.children.flatMap((c): Line[] => {
        if (typeof c === 'string' || c.name !== 'path') return [];
        const line = staffLine(c.attributes.d ?? '');
        return line === null ? [] : [{ ...line, y: line.y + shift }];
      }),
    )
    .filter((lines) => lines.length > 0);

/**
 * Makes our drawing of what the engraving program drew: measures read off, styles written into the elements, only our
 * own ids kept.
 * @throws RangeError when it is not what we expect of the program
 */
export const drawingOf = (root: SvgElement): Drawing => {
  const inner = elementsOf(root).find((e) => hasClass(e, 'definition-scale'));
  const margin = elementsOf(root).find((e) => hasClass(e, 'page-margin'));
  if (inner === undefined || margin === undefined) throw new RangeError('the drawing has no page');
  const [, , width = 0, height = 0] = (inner.attributes.viewBox ?? '').split(' ').map(Number);
  const [dx = 0, dy = 0] = (margin.attributes.transform ?? '').match(/-?\d+/g)?.map(Number) ?? [];
  const measures = elementsOf(margin).filter((e) => hasClass(e, 'measure'));
  const lines = measures.map((m) => ({ id: m.attributes.id ?? '', staves: linesIn(m, dy) }));
  const first = lines[0]?.staves ?? [];
  return {
    width,
    height,
    systems: elementsOf(margin).filter((e) => hasClass(e, 'system')).length,
    content: cleaned(margin, { dx, dy }),
    glyphs: glyphsOf(root),
    staves: first.map((staff) => ({
      top: Math.min(...staff.map((l) => l.y)),
      bottom: Math.max(...staff.map((l) => l.y)),
    })),
    bars: lines.map(({ id, staves }) => ({
      id,
      left: dx + Math.min(...(staves[0] ?? []).map((l) => l.x1)),
      right: dx + Math.max(...(staves[0] ?? []).map((l) => l.x2)),
    })),
    chordsMeetBracket: chordsMeetBracket(margin),
    left: dx + Math.min(...(first[0] ?? []).map((l) => l.x1)),
  };
};
