import { add, toNumber } from '../core/index.ts';
import { barLengthOf, printedChord } from '../music/index.ts';
import { type Bar, barsOf, type Part, type Score } from '../score/index.ts';

/** A chord in a box of the grid. */
export interface GridChord {
  /** "F♯m". */
  readonly name: string;
  /** Share of the bar at which it begins, 0 … 1. */
  readonly at: number;
}

/** One counted bar as a box. */
export interface GridBar {
  readonly number: number;
  /** In order; empty only before the tune's first chord. */
  readonly chords: readonly GridChord[];
  readonly repeatStart: boolean;
  readonly repeatEnd: boolean;
  /** "1." where an ending begins here. */
  readonly ending: readonly number[] | null;
  readonly line: Bar['line'];
}

/** A part's boxes in order. */
export interface GridPart {
  readonly label: string;
  readonly bars: readonly GridBar[];
}

/** A counted bar and what is written around it: a pick-up's repeat sign before, the rest of a split bar behind. */
interface Gathered {
  readonly main: Bar;
  readonly before: readonly Bar[];
  readonly behind: Bar[];
}

const gather = (part: Part): readonly Gathered[] => {
  const gathered: Gathered[] = [];
  let waiting: Bar[] = [];
  for (const bar of part.bars) {
    const last = gathered.at(-1);
    if (bar.role === 'full') {
      gathered.push({ main: bar, before: waiting, behind: [] });
      waiting = [];
    } else if (bar.role === 'restOfBar' && last !== undefined && waiting.length === 0) last.behind.push(bar);
    else waiting.push(bar);
  }
  return gathered;
};

const lengthOf = (bar: Bar): number => {
  const full = barLengthOf(bar.metre);
  const written = bar.events.reduce((sum, e) => add(sum, e.length), { num: 0, den: 1 });
  return Math.max(full === null ? 0 : toNumber(full), toNumber(written)) || 1;
};

/** The chords that sound in a counted bar, the one held over from before it first. */
const chordsIn = (bar: Gathered, held: string | null): readonly GridChord[] => {
  const length = lengthOf(bar.main);
  const chords: GridChord[] = held === null ? [] : [{ name: held, at: 0 }];
  let offset = 0;
  for (const written of [bar.main, ...bar.behind]) {
    for (const symbol of written.chords) {
      const at = Math.min(0.99, offset + toNumber(symbol.onset) / length);
      const name = printedChord(symbol.chord);
      if (at === 0) chords.length = 0;
      if (chords.at(-1)?.name !== name) chords.push({ name, at });
    }
    offset += written.events.reduce((sum, e) => sum + toNumber(e.length), 0) / length;
  }
  return chords;
};

/**
 * The chords of a tune bar by bar: every counted bar names what sounds in it, also where the chord was held over.
 *
 * Chords of pick-ups are left out: a guitarist comes in on the first full bar.
 */
export const chordGridOf = (score: Score): readonly GridPart[] => {
  let held: string | null = null;
  if (barsOf(score).length === 0) return [];
  return score.parts.map((part) => ({
    label: part.label,
    bars: gather(part).map((bar): GridBar => {
      const chords = chordsIn(bar, held);
      held = chords.at(-1)?.name ?? held;
      const all = [...bar.before, bar.main, ...bar.behind];
      return {
        number: bar.main.number ?? 0,
        chords,
        repeatStart: all.some((b) => b.repeatStart > 0),
        repeatEnd: all.some((b) => b.repeatEnd > 0),
        ending: all.find((b) => b.ending !== null)?.ending ?? null,
        line: bar.main.line,
      };
    }),
  }));
};
