import { boxWords, type MappedBar, type PhraseMap, phraseMapSummary, stepWords } from '../lesson/index.ts';
import type { CountedBar } from '../score/index.ts';
import { type Box, barGridPages, type FramedBar, gridPartsOf } from './barGrid.ts';
import type { Page, SheetPlan } from './sheetPlan.ts';
import { type SvgElement, svg } from './svgTree.ts';
import { cutTo, textAt } from './text.ts';
import { type Paragraph, textLines } from './textBlock.ts';

/** A box of the map; `mapped` is null only where the map is of another tune. */
interface PhraseBox extends FramedBar {
  readonly mapped: MappedBar | null;
}

/** A known bar's box is this grey, which prints lightly. Ours. */
const KNOWN = '#e6e6e6';
const STEP_SHARE = 0.5;
const WORDS = 9.5;
const SMALL = 8;

const isKnown = (bar: MappedBar): boolean => bar.likeness.kind === 'same';

/** The step in which a new bar is learnt; under it, or alone in a grey box, which bar it is like. */
const inBox = (map: PhraseMap, { mapped, repeatStart }: PhraseBox, box: Box): readonly SvgElement[] => {
  if (mapped === null) return [];
  const words = boxWords(map, mapped);
  const middle = box.x + box.width / 2;
  const left = box.x + (repeatStart ? 12 : 6);
  if (isKnown(mapped)) {
    const [same = '', ...more] = words;
    return [
      textAt(middle, box.y + box.height * (more.length === 0 ? 0.63 : 0.55), same, {
        size: 13,
        anchor: 'middle',
      }),
      ...more.map((text) =>
        textAt(middle, box.y + box.height - 5, text, { size: SMALL, face: 'italic', anchor: 'middle' }),
      ),
    ];
  }
  const size = box.height * STEP_SHARE;
  return [
    textAt(middle, box.y + box.height * (words.length === 0 ? 0.68 : 0.58), String(mapped.step), {
      size: words.length === 0 ? size : size * 0.85,
      face: 'bold',
      anchor: 'middle',
    }),
    ...words.map((text) => {
      const style = { size: WORDS, face: 'italic' } as const;
      return textAt(middle, box.y + box.height - 5, cutTo(text, box.x + box.width - left - 4, style), {
        ...style,
        anchor: 'middle',
      });
    }),
  ];
};

const shade = (box: Box): SvgElement =>
  svg('rect', { x: box.x, y: box.y, width: box.width, height: box.height, fill: KNOWN });

const foot = (map: PhraseMap, plan: SheetPlan): readonly Paragraph[] => {
  const parts = new Set(map.steps.map((s) => s.part));
  const steps = [...parts].flatMap((part): readonly Paragraph[] => [
    ...(parts.size > 1 ? [{ text: `Part ${part}`, heading: true }] : []),
    ...map.steps
      .filter((s) => s.part === part)
      .map((step) => ({ label: String(step.number), text: stepWords(map, step, plan.words) })),
  ]);
  const bar = plan.words === 'us' ? 'measure' : 'bar';
  return [
    {
      text: `${phraseMapSummary(map, plan.words)} The number in a box: when to learn it. Grey: a ${bar} that you know by then.`,
    },
    ...steps,
  ];
};

/**
 * The phrase map: a box a bar, the same bars shown as the same, and under it the order in which to learn them.
 *
 * A 32-bar tune printed in 16 takes one page.
 * @param map - of the plan's last version
 * @returns the pages in order, at least one
 */
export const phraseMapPages = (plan: SheetPlan, map: PhraseMap): readonly Page[] => {
  const { score } = plan.versions.at(-1) ?? plan.versions[0];
  const boxOf = (bar: CountedBar, frame: FramedBar, part: string): PhraseBox => ({
    ...frame,
    mapped: map.bars.find((m) => m.part === part && m.bar === bar.index) ?? null,
  });
  return barGridPages({ ...plan, tempos: [] }, gridPartsOf(score, boxOf), {
    subtitle: 'Phrase map',
    inBox: (bar, box) => [
      ...(bar.mapped !== null && isKnown(bar.mapped) ? [shade(box)] : []),
      ...inBox(map, bar, box),
    ],
    foot: textLines(plan, foot(map, plan)),
  });
};
