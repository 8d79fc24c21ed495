import { elementsOf, hasClass, type SvgElement } from './svgTree.ts';

/** Height of a chord symbol over its baseline, and half its width at most, in drawing units. Ours, looked at in print. */
const CHORD = { height: 300, halfWidth: 300 };

const classed = (root: SvgElement, name: string): readonly SvgElement[] =>
  elementsOf(root).filter((e) => hasClass(e, name));

/** The level stretches of brackets: from where to where, and how high. */
const levelsOf = (
  root: SvgElement,
): readonly { readonly x1: number; readonly x2: number; readonly y: number }[] =>
  classed(root, 'bracketSpan').flatMap((bracket) =>
    elementsOf(bracket)
      .filter((e) => e.name === 'path')
      .flatMap((path) => {
        const [x1, y, x2] = (path.attributes.d?.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);
        return x1 === undefined || y === undefined || x2 === undefined ? [] : [{ x1, x2, y }];
      }),
  );

/**
 * Whether a bracket runs through a chord symbol.
 *
 * The engraving program keeps them apart only in the bar where the bracket begins.
 */
export const chordsMeetBracket = (page: SvgElement): boolean => {
  const levels = levelsOf(page);
  if (levels.length === 0) return false;
  return classed(page, 'harm')
    .flatMap((harm) => elementsOf(harm).filter((e) => e.name === 'text'))
    .some((text) => {
      const [x, y] = [Number(text.attributes.x), Number(text.attributes.y)];
      return levels.some(
        (level) =>
          x > level.x1 - CHORD.halfWidth &&
          x < level.x2 + CHORD.halfWidth &&
          level.y < y + CHORD.height / 4 &&
          level.y > y - CHORD.height,
      );
    });
};
