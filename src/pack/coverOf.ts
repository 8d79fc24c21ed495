import { coverPage, engraveSnippet, loadEngraver } from '../engrave/index.ts';
import { fullestOf, type Lesson, titlesOf } from '../lesson/index.ts';
import { pngOf } from '../print/index.ts';

/** Bars in each of the two rows of music: together the tune's first line. */
const BARS_IN_ROW = 2;
/** Side of the picture, in pixels: sharp on a phone, small beside the sound. Ours. */
const SIDE = 600;

/**
 * A track's picture: a title over the tune's first line of music.
 * @param title - default: the tune's
 */
export const coverOf = async (lesson: Lesson, title = titlesOf(lesson)[0] ?? ''): Promise<Uint8Array> => {
  const { id, name, score } = fullestOf(lesson);
  const bars = score.parts.flatMap((part) => part.bars);
  const engraver = await loadEngraver();
  const first = BARS_IN_ROW + (bars[0]?.role === 'pickup' ? 1 : 0);
  const rows = [
    [0, first],
    [first, first + BARS_IN_ROW],
  ] as const;
  const version = { id, name, score };
  const lines = rows
    .filter(([from]) => from < bars.length)
    .map(([from, to]) => engraveSnippet([version], { from, to }, engraver));
  return pngOf(coverPage(lines, { title, teacher: lesson.settings.teacher }), SIDE);
};
