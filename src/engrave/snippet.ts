import { writeMei } from '../notation/index.ts';
import { barsOf } from '../score/index.ts';
import { STAFF_UNITS } from './drawing.ts';
import type { Engraver } from './engraver.ts';
import { allGlyphs, pageSvg } from './pageSvg.ts';
import type { Page, SheetVersion } from './sheetPlan.ts';
import { svg } from './svgTree.ts';
import { withSignsInPlace } from './text.ts';

/** How a few bars are drawn. */
export interface SnippetOptions {
  /** Written bars counted from 0 through all parts, `to` not included. */
  readonly from: number;
  readonly to: number;
  /** From lowest to highest line, in points. Default 16. */
  readonly staff?: number;
}

const USUAL_STAFF = 16;
/** Room before the clef, where the bar number begins: in staff heights. Ours. */
const LEAD = 0.25;

/**
 * A few bars of a tune as a small picture, one version or several under each other, as wide as they naturally are.
 *
 * Key and metre stand at its start; its ids are the sheet's, so two pictures of the same bars must not stand in one page.
 * @throws RangeError when the bars are not in the tune
 */
export const engraveSnippet = (
  versions: readonly [SheetVersion, ...SheetVersion[]],
  options: SnippetOptions,
  engraver: Engraver,
): Page => {
  const staffOf = (v: SheetVersion) => ({
    id: v.id,
    name: versions.length > 1 ? v.name : null,
    score: v.score,
    ...(v.hands === undefined ? {} : { hands: v.hands }),
  });
  const [first, ...others] = versions;
  const mei = writeMei(
    { title: '', composer: null, staves: [staffOf(first), ...others.map(staffOf)] },
    {
      range: { from: options.from, to: Math.min(options.to, barsOf(first.score).length) },
      labelsParts: false,
      writesTempo: false,
      oneSystem: true,
      printsMetre: options.from === 0,
    },
  );
  const drawing = engraver.draw(mei, { width: 1, justified: false });
  const staff = options.staff ?? USUAL_STAFF;
  const scale = staff / STAFF_UNITS;
  const lead = staff * LEAD;
  const size = {
    width: Math.ceil((drawing.width * scale + lead) * 100) / 100,
    height: Math.ceil(drawing.height * scale * 100) / 100,
  };
  const page = pageSvg(size, allGlyphs([drawing]), [
    svg('g', { transform: `translate(${lead} 0) scale(${scale.toFixed(5)})` }, drawing.content),
  ]);
  return { ...page, svg: withSignsInPlace(page.svg) };
};
