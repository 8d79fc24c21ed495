import { pageSvg } from './pageSvg.ts';
import type { Page } from './sheetPlan.ts';
import { readSvg, svg } from './svgTree.ts';
import { cutTo, textAt, wrapped } from './text.ts';

/** Measures of the picture in points. Ours: the title is still read on a phone's lock screen. */
const COVER = { side: 300, margin: 18, title: 27, lineHeight: 1.15, teacher: 14, mostTitleLines: 3 } as const;

/**
 * A square picture for music players: a tune's title over some of its music.
 * @param lines - pictures of a few bars, from top to bottom; each is made as wide as the picture
 * @param words - the teacher may be empty
 */
export const coverPage = (
  lines: readonly Page[],
  words: { readonly title: string; readonly teacher: string },
): Page => {
  const { side, margin, title: size, lineHeight, mostTitleLines } = COVER;
  const width = side - 2 * margin;
  const style = { size, face: 'bold' } as const;
  const titleLines = wrapped(words.title, width, style).slice(0, mostTitleLines);
  const titled = titleLines.map((line, i) =>
    textAt(margin, margin + size * (0.8 + i * lineHeight), cutTo(line, width, style), style),
  );
  const top = margin + titleLines.length * size * lineHeight;
  const bottom = side - margin - (words.teacher === '' ? 0 : COVER.teacher * 1.6);
  const heights = lines.map((line) => (line.height * width) / line.width);
  const needed = heights.reduce((a, b) => a + b, 0);
  const shrink = Math.min(1, (bottom - top) / needed);
  let y = top + (bottom - top - needed * shrink) / 2;
  const music = lines.map((line, i) => {
    const height = (heights[i] ?? 0) * shrink;
    const drawn = readSvg(line.svg);
    const placed = {
      ...drawn,
      attributes: {
        ...drawn.attributes,
        x: String(margin),
        y: y.toFixed(2),
        width: String(width),
        height: height.toFixed(2),
      },
    };
    y += height;
    return placed;
  });
  const teacher = textAt(margin, side - margin, cutTo(words.teacher, width, { size: COVER.teacher }), {
    size: COVER.teacher,
    face: 'italic',
  });
  return pageSvg({ width: side, height: side }, new Map(), [
    svg('rect', { x: 0, y: 0, width: side, height: side, fill: '#fff' }),
    ...titled,
    ...music,
    ...(words.teacher === '' ? [] : [teacher]),
  ]);
};
