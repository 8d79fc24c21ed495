import type { HeardNote } from './hear.ts';
import type { PlayedBar } from './playedBars.ts';

/** A note of the draft. */
export interface DraftNote {
  /** Quavers from the start of the bar; thirds where it is one of a triplet. */
  readonly at: number;
  readonly semitone: number;
  /** A flick from above begins it. */
  readonly cut: boolean;
}

/** A bar as one pass played it: what begins in each pair of quavers (or each quaver of a jig). */
export type Cells = readonly (readonly DraftNote[])[];

/** How far, in quavers, a note may lie from a place of the triplet. */
const TRIPLET_NEAR = 0.24;
/** Notes shorter than this, in quavers, stand for nothing of their own. */
const LEAST = 0.36;

/** Undoes swing: where a place in the played bar lies on paper. */
const straightened = (place: number, swing: number): number => {
  const long = (2 * swing) / (1 + swing);
  const pair = Math.floor(place / 2) * 2;
  const inside = place - pair;
  return pair + (inside < long ? inside / long : 1 + (inside - long) / (2 - long));
};

interface Placed {
  readonly place: number;
  readonly note: HeardNote;
}

const noteAt = (at: number, { note }: Placed): DraftNote => ({
  at,
  semitone: note.semitone,
  cut: note.ornament === 'cut',
});

/** A note on paper, and where it was played: a triplet is not swung. */
interface PlayedPlace extends Placed {
  readonly played: number;
}

/** Quavers into a pair at which a triplet's notes begin. */
const THIRDS = [0, 2 / 3, 4 / 3] as const;

/**
 * Three notes in the time of two quavers, where they lie nearer to thirds than to semiquavers: two swung semiquavers and a
 * quaver are all but a triplet.
 */
const tripletIn = (inside: readonly PlayedPlace[], from: number): readonly DraftNote[] | null => {
  if (inside.length !== 3) return null;
  const offThirds = inside.map(({ played }, i) => Math.abs(played - from - (THIRDS[i] as number)));
  if (offThirds.some((off) => off >= TRIPLET_NEAR)) return null;
  const offHalves = inside.map(({ place }) => Math.abs(place - Math.round(2 * place) / 2));
  const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);
  if (sum(offHalves) < sum(offThirds)) return null;
  return inside.map((p, i) => noteAt(from + (THIRDS[i] as number), p));
};

/** A note so near the middle between two quavers, in quavers, that is followed at the next one, is a semiquaver. Ours. */
const SEMIQUAVER_NEAR = 0.17;

/**
 * The place that a note takes: its nearest quaver, or the semiquaver before a quaver that has a note of its own, as in two
 * semiquavers or a dotted pair.
 */
const placeOf = (place: number, others: readonly Placed[]): number => {
  const half = Math.floor(place) + 0.5;
  const next = others.some((o) => Math.abs(o.place - half - 0.5) < SEMIQUAVER_NEAR);
  return Math.abs(place - half) < SEMIQUAVER_NEAR && next ? half : Math.round(place);
};

/** Each note on its place; of several on one, the longest. */
const onPlaces = (inside: readonly (Placed & { readonly at: number })[]): readonly DraftNote[] =>
  [...new Set(inside.map((p) => p.at))]
    .sort((a, b) => a - b)
    .flatMap((at) => {
      const here = inside.filter((p) => p.at === at);
      const longest = here.reduce((a, b) => (b.note.end - b.note.start > a.note.end - a.note.start ? b : a));
      return [noteAt(at, longest)];
    });

/** What a bar's pass played, cell by cell. @param swing - long : short, 1 in compound time */
export const cellsOf = (
  bar: PlayedBar,
  heard: readonly HeardNote[],
  how: { readonly swing: number; readonly cell: number },
): Cells => {
  const pace = (bar.end - bar.start) / bar.quavers;
  const inside = heard
    .filter((n) => n.end - n.start > LEAST * pace)
    .map((note) => {
      const played = (note.start - bar.start) / pace;
      const compound = how.cell === 1;
      return { note, place: compound ? played : straightened(played, how.swing), played };
    })
    .filter((p) => p.place > -0.75 && p.place < bar.quavers + 0.75);
  return Array.from({ length: Math.ceil(bar.quavers / how.cell) }, (_, c) => {
    const from = c * how.cell;
    const near = inside.filter((p) => p.played > from - 0.3 && p.played < from + how.cell - 0.3);
    const triplet = how.cell === 2 ? tripletIn(near, from) : null;
    if (triplet !== null) return triplet;
    const mine = inside
      .map((p) => ({ ...p, at: placeOf(p.place, inside) }))
      .filter((p) => p.at >= from && p.at < Math.min(bar.quavers, from + how.cell));
    return onPlaces(mine);
  });
};

const keyOfCell = (cell: readonly DraftNote[]): string =>
  cell.map((n) => `${n.at.toFixed(1)}:${n.semitone}`).join(' ');

/** Whether two cells have the same notes in the same places. */
export const sameCell = (a: readonly DraftNote[], b: readonly DraftNote[]): boolean =>
  keyOfCell(a) === keyOfCell(b);

/**
 * Passes of one bar made one: in each cell what most of them have; where they are even what has more notes, for a note is
 * missed more often than one is heard that wasn't played.
 */
export const merged = (passes: readonly Cells[]): { readonly cells: Cells; readonly unsure: boolean } => {
  let unsure = false;
  const cells = (passes[0] ?? []).map((_, c) => {
    const counts = new Map<string, { cell: readonly DraftNote[]; count: number; cuts: number }>();
    for (const pass of passes) {
      const cell = pass[c] ?? [];
      const known = counts.get(keyOfCell(cell)) ?? { cell, count: 0, cuts: 0 };
      known.count += 1;
      if (cell.some((n) => n.cut)) {
        known.cuts += 1;
        known.cell = cell;
      }
      counts.set(keyOfCell(cell), known);
    }
    const best = [...counts.values()].reduce((a, b) =>
      b.count > a.count || (b.count === a.count && b.cell.length > a.cell.length) ? b : a,
    );
    if (best.count * 2 <= passes.length && passes.length > 1) unsure = true;
    const withCuts = best.cuts * 2 >= best.count;
    return withCuts ? best.cell : best.cell.map((n) => ({ ...n, cut: false }));
  });
  return { cells, unsure };
};
