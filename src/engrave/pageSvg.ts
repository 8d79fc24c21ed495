import { glyphId } from './cleanDrawing.ts';
import type { Page } from './sheetPlan.ts';
import { type SvgElement, svg, writeSvg } from './svgTree.ts';
import { TEXT_FAMILY } from './text.ts';

/** The outlines of musical signs, to be used by their id. */
const definitions = (glyphs: ReadonlyMap<string, string>): readonly SvgElement[] =>
  glyphs.size === 0
    ? []
    : [
        svg(
          'defs',
          {},
          [...glyphs]
            .toSorted(([a], [b]) => (a < b ? -1 : 1))
            .map(([code, path]) => svg('path', { id: glyphId(code), d: path, transform: 'scale(1 -1)' })),
        ),
      ];

/**
 * A page as SVG text that needs nothing else: styles stand in the elements, words are in Tinos, signs in outlines.
 * @param size - in points
 */
export const pageSvg = (
  size: { readonly width: number; readonly height: number },
  glyphs: ReadonlyMap<string, string>,
  content: readonly SvgElement[],
): Page => {
  const root = svg(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      'xmlns:xlink': 'http://www.w3.org/1999/xlink',
      'font-family': `${TEXT_FAMILY}, 'Times New Roman', serif`,
      width: size.width,
      height: size.height,
      viewBox: `0 0 ${size.width} ${size.height}`,
    },
    [...definitions(glyphs), ...content],
  );
  return { width: size.width, height: size.height, svg: writeSvg(root) };
};

/** The outlines of several drawings in one table. */
export const allGlyphs = (
  drawings: readonly { readonly glyphs: ReadonlyMap<string, string> }[],
): ReadonlyMap<string, string> => new Map(drawings.flatMap((d) => [...d.glyphs]));
