import { type Box, barGridPages } from './barGrid.ts';
import { type ChordBox, chordGridOf } from './chordGrid.ts';
import type { Page, SheetPlan } from './sheetPlan.ts';
import type { SvgElement } from './svgTree.ts';
import { textAt, widthOf } from './text.ts';
import { textLines } from './textBlock.ts';

const CHORD_SHARE = 0.44;
const MOST_CHORD = 19;

/** Names side by side at their place in the bar, smaller where they would not fit. */
const chordNames = (bar: ChordBox, box: Box): readonly SvgElement[] => {
  const left = bar.repeatStart ? 14 : 6;
  const right = bar.repeatEnd ? 11 : 4;
  const room = box.width - left - right;
  const usual = Math.min(MOST_CHORD, box.height * CHORD_SHARE);
  const names = bar.chords.map((c) => c.name);
  const total = (size: number): number =>
    names.reduce((sum, n) => sum + widthOf(n, size, 'bold'), 0) + (names.length - 1) * size * 0.45;
  const size = total(usual) <= room ? usual : (usual * room) / total(usual);
  const y = box.y + box.height * 0.5 + size * 0.42;
  let free = 0;
  return bar.chords.map((chord) => {
    const x = Math.max(free, chord.at * room);
    free = x + widthOf(chord.name, size, 'bold') + size * 0.45;
    const over = Math.max(0, x + widthOf(chord.name, size, 'bold') - room);
    return textAt(box.x + left + x - (names.length < 3 ? over : 0), y, chord.name, { size, face: 'bold' });
  });
};

/**
 * The chord grid that a guitarist wants: a box a bar in rows of four, part letters, repeats and endings.
 *
 * The chords are those over the plan's last version. A tune of up to 64 printed bars takes one page.
 * @param hint - under the grid, such as where a capo helps; null: nothing
 * @returns the pages in order, at least one
 */
export const chordGridPages = (plan: SheetPlan, hint: string | null = null): readonly Page[] => {
  const { score } = plan.versions.at(-1) ?? plan.versions[0];
  return barGridPages(plan, chordGridOf(score), {
    subtitle: 'Chords',
    inBox: chordNames,
    foot: textLines(plan, hint === null ? [] : [{ text: hint }]),
  });
};
