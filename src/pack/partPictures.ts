import { type Engraver, engraveSnippet } from '../engrave/index.ts';
import { withChords } from '../harmony/index.ts';
import { capital, type Lesson, type OrnamentRemark } from '../lesson/index.ts';
import { barsOf } from '../score/index.ts';

/** Bars in a line, as on the sheets. */
const BARS_IN_LINE = 4;
/** A longer tune's notes have no pictures: they would make the page heavy. Ours. */
const MOST_BARS = 100;

/** Height of a staff on the page, in points: as large as four bars allow beside the text. Ours. */
const STAFF = 24;

/** Where each line of a part begins and ends, counted through the tune; a pick-up does not fill a place of its own. */
const linesOf = (roles: readonly string[], start: number): readonly (readonly [number, number])[] => {
  const lines: (readonly [number, number])[] = [];
  let from = 0;
  let full = 0;
  roles.forEach((role, i) => {
    if (role === 'full') full += 1;
    const next = roles[i + 1];
    const ends = next === undefined || (full === BARS_IN_LINE && next === 'full');
    if (!ends) return;
    lines.push([start + from, start + i + 1]);
    from = i + 1;
    full = 0;
  });
  return lines;
};

/**
 * The full version as pictures for a web page, four bars in each.
 * @returns SVG elements by part label, in order; empty for very long tunes
 */
export const partPictures = (lesson: Lesson, engraver: Engraver): ReadonlyMap<string, readonly string[]> => {
  const full = lesson.versions.full;
  if (barsOf(full).length > MOST_BARS) return new Map();
  const version = { id: 'full', name: '', score: withChords(full, lesson.chords) };
  let start = 0;
  return new Map(
    full.parts.map((part) => {
      const lines = linesOf(
        part.bars.map((bar) => bar.role),
        start,
      );
      start += part.bars.length;
      const drawn = lines.map(
        ([from, to]) => engraveSnippet([version], { from, to, staff: STAFF }, engraver).svg,
      );
      return [part.label, drawn.map((svg) => svg.slice(svg.indexOf('<svg')))];
    }),
  );
};

/** Height of the staff in an ornament's picture, in points. Ours. */
const SMALL_STAFF = 19;

/**
 * The first bar with each kind of ornament as a small picture.
 *
 * Its version has a name of its own, so that no id of the parts' pictures comes twice in one page.
 * @returns SVG elements by kind; empty for very long tunes
 */
export const ornamentPictures = (
  lesson: Lesson,
  ornaments: readonly OrnamentRemark[],
  engraver: Engraver,
): ReadonlyMap<string, string> => {
  const { full } = lesson.versions;
  const bars = barsOf(full);
  if (bars.length > MOST_BARS) return new Map();
  return new Map(
    ornaments.flatMap(({ kind, places: [place] }) => {
      const from = bars.findIndex((b) => b.part === place?.part && b.index === place.bar);
      if (from < 0) return [];
      const version = { id: `sample${capital(kind)}`, name: '', score: full };
      const { svg } = engraveSnippet([version], { from, to: from + 1, staff: SMALL_STAFF }, engraver);
      return [[kind, svg.slice(svg.indexOf('<svg'))] as const];
    }),
  );
};
