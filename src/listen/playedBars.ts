import { type BarPlan, barStarts, type Quavers } from './barFinder.ts';
import type { Grid } from './grid.ts';
import type { HeardNote } from './hear.ts';
import { PHRASE_BARS, type Standing } from './metreData.ts';

/** A bar of the recording. */
export interface PlayedBar {
  /** Number on paper; null for a pick-up. Without a tune they are counted within the part. */
  readonly number: number | null;
  readonly part: string;
  /** How often the part was played before, from 0. */
  readonly pass: number;
  readonly start: number;
  readonly end: number;
  readonly quavers: number;
  /** Quavers that were counted in it, where the count slipped and they are not `quavers`. */
  readonly counted?: number;
}

/** A note lasts at most so many quavers: behind it is a rest or a stop. */
const LONGEST = 8;

/** The tune quaver by quaver, as the grid has it. */
export const quaversOf = (grid: Grid, heard: readonly HeardNote[]): Quavers => {
  const count = (grid.notes.at(-1)?.at ?? -1) + 1;
  const pitch = new Int16Array(count).fill(-1);
  const standing: Standing[] = new Array<Standing>(count).fill(0);
  grid.notes.forEach((note, i) => {
    const next = grid.notes[i + 1]?.at ?? note.at + 1;
    const semitone = heard[note.heard]?.semitone ?? -1;
    pitch.fill(semitone, note.at, Math.min(next, note.at + LONGEST));
    standing[note.at] = next - note.at >= 2 ? 2 : 1;
  });
  return { pitch, standing };
};

/** When does a quaver of the grid come? Between notes it is reckoned. */
const timeOnGrid = (grid: Grid, heard: readonly HeardNote[], quaver: number): number => {
  const { notes, pace } = grid;
  const timeOf = (i: number): number => heard[notes[i]?.heard ?? 0]?.start ?? 0;
  let low = 0;
  let high = notes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((notes[middle]?.at ?? 0) <= quaver) low = middle + 1;
    else high = middle;
  }
  const before = low - 1;
  if (before < 0) return timeOf(0) - ((notes[0]?.at ?? 0) - quaver) * pace;
  const from = notes[before]?.at ?? 0;
  if (from === quaver || before + 1 >= notes.length) return timeOf(before) + (quaver - from) * pace;
  const to = notes[before + 1]?.at ?? from + 1;
  return timeOf(before) + ((quaver - from) / (to - from)) * (timeOf(before + 1) - timeOf(before));
};

/**
 * Two phrases with so many equal quavers are the same part: as many as in those that are most alike, less a little, and
 * within these bounds. Parts of one tune often share half of their bars. Ours.
 */
const SAME_PART = { least: 0.68, most: 0.88, below: 0.1 } as const;

/** Share of equal quavers in two rows of bars. @param a, b - starts of the bars */
const likeness = (pitch: Int16Array, a: readonly number[], b: readonly number[], bar: number): number => {
  let [same, all] = [0, 0];
  for (let k = 0; k < Math.min(a.length, b.length); k += 1)
    for (let i = 0; i < bar; i += 1) {
      const [x, y] = [pitch[(a[k] as number) + i] ?? -1, pitch[(b[k] as number) + i] ?? -1];
      if (x < 0 || y < 0) continue;
      all += 1;
      if (x === y) same += 1;
    }
  return all === 0 ? 0 : same / all;
};

/** A row of fewer bars than this is no part of its own: it is left out. */
const LEAST_BARS = 3;

interface Phrase {
  /** Starts of its bars, in quavers. */
  readonly starts: readonly number[];
  /** Number of its first bar. */
  readonly first: number;
  readonly part: string;
  readonly pass: number;
}

/** How alike two phrases of this recording are when they are the same part. */
const samePart = (pitch: Int16Array, rows: readonly (readonly number[])[], bar: number): number => {
  const whole = rows.filter((row) => row.length === PHRASE_BARS);
  const alike = whole.flatMap((a, i) => whole.slice(i + 1).map((b) => likeness(pitch, a, b, bar)));
  const { least, most, below } = SAME_PART;
  return Math.min(most, Math.max(least, Math.max(0, ...alike) - below));
};

/** Phrases of eight bars with letters: what comes back has its letter again. */
const phrasesOf = (
  pitch: Int16Array,
  rows: readonly (readonly number[])[],
  bar: number,
): readonly Phrase[] => {
  const same = samePart(pitch, rows, bar);
  const firsts: { starts: readonly number[]; part: string; passes: number }[] = [];
  const found: Phrase[] = [];
  for (const [i, starts] of rows.entries()) {
    // A row that was cut off at the beginning is compared by its end.
    const headless = i === 0 && starts.length < PHRASE_BARS && rows.length > 1;
    const first = headless ? PHRASE_BARS - starts.length + 1 : 1;
    const likest = firsts
      .map((f) => ({ f, alike: likeness(pitch, f.starts.slice(first - 1), starts, bar) }))
      .sort((a, b) => b.alike - a.alike)[0];
    if (likest !== undefined && likest.alike >= same) {
      likest.f.passes += 1;
      found.push({ starts, first, part: likest.f.part, pass: likest.f.passes - 1 });
    } else if (starts.length >= LEAST_BARS) {
      const part = String.fromCharCode(65 + Math.min(25, firsts.length));
      firsts.push({ starts, part, passes: 1 });
      found.push({ starts, first, part, pass: 0 });
    }
  }
  return found;
};

/** Bars in rows of eight, so that a part begins at the bar nearest to where the plan has one. */
const rowsOf = (starts: readonly number[], origin: number): readonly (readonly number[])[] => {
  const distance = (i: number): number => Math.abs((starts[i] ?? 0) - origin);
  const nearest = starts.reduce((best, _, i) => (distance(i) < distance(best) ? i : best), 0);
  const lead = nearest % PHRASE_BARS;
  const rows = lead === 0 ? [] : [starts.slice(0, lead)];
  for (let i = lead; i < starts.length; i += PHRASE_BARS) rows.push(starts.slice(i, i + PHRASE_BARS));
  return rows;
};

/** The bars of a plan, with times, letters of parts and numbers. */
export const barsOfPlan = (plan: BarPlan, grid: Grid, heard: readonly HeardNote[]): readonly PlayedBar[] => {
  const quavers = quaversOf(grid, heard);
  const bar = plan.kind.quavers;
  const starts = barStarts(quavers, plan);
  const rows = rowsOf(starts, plan.start);
  const endOf = new Map(starts.map((at, i) => [at, starts[i + 1] ?? at + bar]));
  return phrasesOf(quavers.pitch, rows, bar).flatMap(({ starts: row, first, part, pass }) =>
    row.map(
      (at, k): PlayedBar => ({
        number: first + k,
        part,
        pass,
        start: timeOnGrid(grid, heard, at),
        end: timeOnGrid(grid, heard, endOf.get(at) ?? at + bar),
        quavers: bar,
        ...((endOf.get(at) ?? at + bar) === at + bar ? {} : { counted: (endOf.get(at) ?? at + bar) - at }),
      }),
    ),
  );
};

/** "AABB" from the parts as they were played, also where that was played several times; all of it where nothing comes back. */
export const formOf = (parts: string): string => {
  for (let unit = 1; unit <= parts.length / 2; unit += 1) {
    const round = parts.slice(0, unit);
    if (new Set(round).size < 2 && unit < parts.length / 2) continue;
    if (round.repeat(Math.ceil(parts.length / unit)).startsWith(parts)) return round;
  }
  return parts;
};
