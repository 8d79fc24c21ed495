import { noteSign } from './noteSign.ts';
import { SHEET_MEASURES, type SheetPlan, type SheetTempo } from './sheetPlan.ts';
import { type SvgElement, svg } from './svgTree.ts';
import { cutTo, type Face, textAt, widthOf, wrapped } from './text.ts';

/** A block of the page: how high it is, and what is in it. */
export interface Block {
  readonly height: number;
  readonly content: readonly SvgElement[];
}

/** Sizes in points. Ours, looked at in print. */
const TITLE_SIZES = [24, 20, 17, 14.5] as const;
const MOST_TITLE_LINES = 3;
const SUBTITLE = 13;
const SMALL = 10;
const ROW = 15;
const RUNNING = 9.5;
const MOST_CREDITS = 3;
/** A space between words as a share of their size. Source: Tinos. */
const WORD_SPACE = 0.25;

/** Words of large print against the usual ones. Ours: the smallest words are then 12 points. */
const LARGE_PRINT_ZOOM = 1.42;

/** How much larger than usual a sheet's words are. */
export const zoomOf = (plan: SheetPlan): number => (plan.largePrint ? LARGE_PRINT_ZOOM : 1);

/** The page's edges in a drawing that is enlarged by `zoom`. */
const frameOf = (plan: SheetPlan, pageWidth: number) => {
  const zoom = zoomOf(plan);
  const { margin } = SHEET_MEASURES;
  return {
    zoom,
    left: margin.left / zoom,
    right: (pageWidth - margin.right) / zoom,
    top: margin.top / zoom,
  };
};

const zoomed = (zoom: number, content: readonly SvgElement[]): readonly SvgElement[] =>
  zoom === 1 ? content : [svg('g', { transform: `scale(${zoom})` }, content)];

interface Title {
  readonly size: number;
  readonly lines: readonly string[];
}

const titleFace: Face = 'bold';

/** The title on one line at the largest size that fits, else broken over up to three; what is still too long is cut. */
const titleOf = (text: string, width: number): Title => {
  const words = text.trim().replace(/\s+/g, ' ');
  for (const size of TITLE_SIZES.slice(0, 3)) {
    if (widthOf(words, size, titleFace) <= width) return { size, lines: [words] };
  }
  const size = TITLE_SIZES[2];
  const two = wrapped(words, width, { size, face: titleFace });
  if (two.length <= 2) return { size, lines: two };
  const small = TITLE_SIZES[3];
  const lines = wrapped(words, width, { size: small, face: titleFace });
  if (lines.length <= MOST_TITLE_LINES) return { size: small, lines };
  const kept = lines.slice(0, MOST_TITLE_LINES - 1);
  const rest = lines.slice(MOST_TITLE_LINES - 1).join(' ');
  return { size: small, lines: [...kept, cutTo(rest, width, { size: small, face: titleFace })] };
};

const sameBeat = (a: SheetTempo, b: SheetTempo | undefined): boolean =>
  b !== undefined && a.beat.num === b.beat.num && a.beat.den === b.beat.den;

/** "(minim) = 42 to learn · 70 steady": the note stands where it changes. */
const tempoLine = (tempos: readonly SheetTempo[], left: number, y: number): readonly SvgElement[] => {
  let x = left;
  return tempos.flatMap((tempo, i): SvgElement[] => {
    const parts: SvgElement[] = [];
    const write = (text: string, face: Face): void => {
      parts.push(textAt(x, y, text, { size: SMALL, face }));
      x += widthOf(text, SMALL, face);
    };
    if (i > 0) {
      x += SMALL * 0.35;
      write('·', 'regular');
      x += SMALL * 0.35;
    }
    if (!sameBeat(tempo, tempos[i - 1])) {
      const sign = noteSign(tempo.beat, x, y, SMALL * 1.1);
      parts.push(...sign.content);
      x += sign.width + SMALL * 0.3;
      write('=', 'regular');
      x += SMALL * WORD_SPACE;
    }
    write(String(tempo.beatsPerMinute), 'bold');
    if (tempo.words !== '') {
      x += SMALL * WORD_SPACE;
      write(tempo.words, 'regular');
    }
    return parts;
  });
};

const rightColumn = (
  plan: SheetPlan,
  right: number,
  width: number,
  firstRow: number,
): readonly SvgElement[] => {
  const facts = [plan.dance, plan.keyAndMetre].filter((t) => t !== '').join(' · ');
  const credits = plan.credit.filter((c) => c.trim() !== '').slice(0, MOST_CREDITS);
  return [
    textAt(right, firstRow, cutTo(facts, width, { size: SMALL + 1 }), { size: SMALL + 1, anchor: 'end' }),
    ...credits.map((credit, i) =>
      textAt(right, firstRow + (i + 1) * ROW * 0.9, cutTo(credit, width, { size: SMALL, face: 'italic' }), {
        size: SMALL,
        face: 'italic',
        anchor: 'end',
      }),
    ),
  ];
};

const rule = (left: number, right: number, y: number, width: number): SvgElement =>
  svg('path', { d: `M${left} ${y} H${right}`, stroke: '#000', 'stroke-width': width });

/**
 * The heading of a sheet's first page: the title over the full width, under it the version and its tempos at the left,
 * dance, key, metre and credit at the right, and a rule.
 */
export const heading = (plan: SheetPlan, pageWidth: number): Block => {
  const { left, right, top, zoom } = frameOf(plan, pageWidth);
  const title = titleOf(plan.title, right - left);
  const leading = title.size * 1.15;
  const titleLines = title.lines.map((line, i) =>
    textAt(left, top + title.size * 0.8 + i * leading, line, { size: title.size, face: titleFace }),
  );
  const firstRow = top + title.size * 0.8 + (title.lines.length - 1) * leading + ROW * 1.35;
  const half = (right - left) * 0.6;
  const credits = Math.min(MOST_CREDITS, plan.credit.filter((c) => c.trim() !== '').length);
  const leftRows: readonly (readonly SvgElement[])[] = [
    ...(plan.subtitle === ''
      ? []
      : [
          [
            textAt(
              left,
              firstRow,
              cutTo(plan.subtitle, right - left - half, { size: SUBTITLE, face: 'italic' }),
              { size: SUBTITLE, face: 'italic' },
            ),
          ],
        ]),
    ...(plan.tempos.length === 0
      ? []
      : [tempoLine(plan.tempos, left, firstRow + (plan.subtitle === '' ? 0 : ROW * 1.1))]),
  ];
  const rows = Math.max(leftRows.length, 1 + credits * 0.9);
  const bottom = firstRow + (rows - 1) * ROW * 1.1 + ROW * 0.55;
  return {
    height: (bottom - top) * zoom,
    content: zoomed(zoom, [
      ...titleLines,
      ...leftRows.flat(),
      ...rightColumn(plan, right, half, firstRow),
      rule(left, right, bottom, 0.7),
    ]),
  };
};

/** Title of a tune inside a set, in points, and the distance between its rows. Ours, looked at in print. */
const TUNE_TITLE = 15;
const TUNE_ROW = 13;

/**
 * The heading of one tune of a set: its title, under it the tempos; at the right dance, key, metre and times through, under
 * them the credit.
 * @param times - "twice through"
 */
export const tuneHeading = (plan: SheetPlan, times: string, pageWidth: number): Block => {
  const { left, right, top } = frameOf(plan, pageWidth);
  const facts = [plan.dance, plan.keyAndMetre, times].filter((t) => t !== '').join(' · ');
  const titleRoom = right - left - widthOf(facts, SMALL) - ROW;
  const first = top + TUNE_TITLE * 0.8;
  const second = first + TUNE_ROW;
  const [credit = ''] = plan.credit;
  const creditStyle = { size: SMALL, face: 'italic' } as const;
  return {
    height: second + SMALL * 0.4 - top,
    content: [
      textAt(left, first, cutTo(plan.title, titleRoom, { size: TUNE_TITLE, face: titleFace }), {
        size: TUNE_TITLE,
        face: titleFace,
      }),
      textAt(right, first, facts, { size: SMALL, anchor: 'end' }),
      ...tempoLine(plan.tempos, left, second),
      textAt(right, second, cutTo(credit, (right - left) / 2, creditStyle), {
        ...creditStyle,
        anchor: 'end',
      }),
    ],
  };
};

/** The line at the top of further pages: title, version and which page it is. */
export const runningHeading = (plan: SheetPlan, pageWidth: number): Block => {
  const { left, right, top, zoom } = frameOf(plan, pageWidth);
  const name = plan.subtitle === '' ? plan.title : `${plan.title} · ${plan.subtitle}`;
  const text = cutTo(name.replace(/\s+/g, ' '), right - left, { size: RUNNING, face: 'italic' });
  return {
    height: (RUNNING + 6) * zoom,
    content: zoomed(zoom, [
      textAt(left, top + RUNNING * 0.8, text, { size: RUNNING, face: 'italic' }),
      rule(left, right, top + RUNNING + 5, 0.4),
    ]),
  };
};

/** The last line of each page: teacher and date at the left, the page's number at the right where there are several. */
export const footLine = (
  plan: SheetPlan,
  page: { readonly width: number; readonly height: number },
  { number, count }: { readonly number: number; readonly count: number },
): readonly SvgElement[] => {
  const { left, right, zoom } = frameOf(plan, page.width);
  const y = (page.height - SHEET_MEASURES.margin.bottom) / zoom;
  const who = [plan.teacher, plan.date].filter((t) => t !== '').join(' · ');
  return zoomed(zoom, [
    rule(left, right, y - 12, 0.4),
    ...(who === '' ? [] : [textAt(left, y, cutTo(who, (right - left) * 0.8, { size: 9 }), { size: 9 })]),
    ...(count > 1 ? [textAt(right, y, `${number} of ${count}`, { size: 9, anchor: 'end' })] : []),
  ]);
};

/** Height of the foot line with the rule over it. */
export const footHeight = (plan: SheetPlan): number => FOOT_LINE * zoomOf(plan);
const FOOT_LINE = 16;
