import type { PlacedBar, Score } from '../score/index.ts';
import { barsOf } from '../score/index.ts';

/** The bars of one line: `from` to `to`, counted through all parts, `to` not included. */
export interface SystemRange {
  readonly from: number;
  readonly to: number;
  /** Label of the part that begins here; null: a part goes on. */
  readonly part: string | null;
  /** Natural width of its music in staff heights, signature included. */
  readonly width: number;
}

/** Bars in a line where they fit. Common practice: a phrase of an eight-bar part is two lines or one of four. */
const BARS_A_LINE = 4;
/** Each further line costs so much against a line of another length. Ours. */
const LINE_COST = 0.1;
/** A line of another length costs this share more for each bar behind it: nine bars are four and five. Ours. */
const EARLIER_COST = 0.01;
/** Clef and one accidental of the signature, in staff heights. Source: widths of the Leipzig font. */
const CLEF_WIDTH = 1.1;
const ACCIDENTAL_WIDTH = 0.25;

/** Bars that may not be parted: a counted bar with the pick-up before it and the rest of it behind. */
interface Unit {
  readonly from: number;
  readonly to: number;
  readonly width: number;
}

const unitsOf = (bars: readonly PlacedBar[], start: number, widths: readonly number[]): readonly Unit[] => {
  const units: { from: number; to: number; width: number; open: boolean }[] = [];
  bars.forEach(({ bar }, i) => {
    const last = units.at(-1);
    const width = widths[start + i] ?? 0;
    const joins = last !== undefined && (last.open || bar.role === 'restOfBar');
    if (joins) {
      last.to = start + i + 1;
      last.width += width;
      last.open = last.open && bar.role !== 'full';
    } else units.push({ from: start + i, to: start + i + 1, width, open: bar.role === 'pickup' });
  });
  return units;
};

/** Width of clef and key signature at the start of a line, in staff heights. */
export const signatureWidth = (bar: PlacedBar['bar']): number =>
  CLEF_WIDTH + ACCIDENTAL_WIDTH * Object.values(bar.key.accidentals).filter((a) => a !== 0).length;

interface Choice {
  readonly cost: number;
  readonly start: number;
}

/** The cheapest way to cut a part's units into lines; a line may be too wide only if it is one unit. */
const cut = (units: readonly Unit[], signature: number, available: number): readonly (readonly Unit[])[] => {
  const best: Choice[] = [{ cost: 0, start: 0 }];
  for (let end = 1; end <= units.length; end += 1) {
    let choice: Choice = { cost: Number.POSITIVE_INFINITY, start: end - 1 };
    let width = signature;
    for (let start = end - 1; start >= 0; start -= 1) {
      width += units[start]?.width ?? 0;
      const count = end - start;
      if (count > 1 && width > available) break;
      const early = 1 + EARLIER_COST * (units.length - end);
      const cost = (best[start]?.cost ?? 0) + (count - BARS_A_LINE) ** 2 * early + LINE_COST;
      if (cost < choice.cost) choice = { cost, start };
    }
    best[end] = choice;
  }
  const lines: (readonly Unit[])[] = [];
  for (let end = units.length; end > 0; end = best[end]?.start ?? 0)
    lines.unshift(units.slice(best[end]?.start ?? 0, end));
  return lines;
};

/**
 * Which bars stand in which line: four where they fit, each part on a line of its own, no line of one bar where another
 * cut is as good; a pick-up stands with the bar that it leads into.
 * @param widths - natural width of each written bar, in staff heights, without clef and signature
 * @param available - width of a line in staff heights
 */
export const systemRanges = (
  score: Score,
  widths: readonly number[],
  available: number,
): readonly SystemRange[] => {
  const bars = barsOf(score);
  let start = 0;
  return score.parts.flatMap((part): SystemRange[] => {
    const inPart = bars.slice(start, start + part.bars.length);
    const [first] = inPart;
    const units = unitsOf(inPart, start, widths);
    start += part.bars.length;
    if (first === undefined) return [];
    const signature = signatureWidth(first.bar);
    return cut(units, signature, available).map((line, i) => ({
      from: line[0]?.from ?? 0,
      to: line.at(-1)?.to ?? 0,
      part: i === 0 ? part.label : null,
      width: signature + line.reduce((sum, u) => sum + u.width, 0),
    }));
  });
};

/** Whether every line holds as many bars as one would wish. */
export const holdsFourBars = (score: Score, ranges: readonly SystemRange[]): boolean => {
  const wished = systemRanges(score, [], Number.POSITIVE_INFINITY);
  return wished.length === ranges.length && wished.every((w, i) => w.to === ranges[i]?.to);
};
