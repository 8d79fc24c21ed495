import type { Rational } from '../core/index.ts';
import { midiOf, staffStepOf } from '../music/index.ts';
import { type Bar, barsOf, metricalOffsetOf, type Note, type PlacedBar, type Score } from '../score/index.ts';

/** The tuplet that a note belongs to. */
export interface LineTuplet {
  /** Where it begins. */
  readonly from: number;
  /** Whether it can only stay whole: a rest or a tie is in it. */
  readonly whole: boolean;
}

/**
 * A note as it is struck: tied notes are one.
 *
 * Times are ticks from the start of the bar; how long a tick is says the line.
 */
export interface LineNote {
  readonly at: number;
  /** Where it stops sounding, at the bar's end at the latest. */
  readonly until: number;
  /** Rings over the bar line. */
  readonly tiedOut: boolean;
  /** How long it sounds in all, over bar lines too. */
  readonly sounding: number;
  readonly midi: number;
  readonly staffStep: number;
  /** The first of the tied notes, as written. */
  readonly note: Note;
  readonly tuplet: LineTuplet | null;
}

/** A note that rings into a bar from the one before. */
export interface CarriedNote {
  readonly note: Note;
  readonly midi: number;
  readonly until: number;
  /** Rings on over the next bar line. */
  readonly tiedOut: boolean;
}

/** A written bar as a line of struck notes. */
export interface LineBar {
  readonly bar: Bar;
  readonly part: string;
  /** Index in the part. */
  readonly index: number;
  /** Where in its metre the bar begins (pick-ups begin late). */
  readonly offset: number;
  readonly length: number;
  readonly notes: readonly LineNote[];
  readonly carried: CarriedNote | null;
  readonly rests: readonly { readonly at: number; readonly until: number }[];
}

/** The melody of a whole score in ticks, graces and second tones left out. */
export interface Line {
  /** Ticks in a whole note. */
  readonly ticks: number;
  readonly bars: readonly LineBar[];
}

/** Divisions of the whole note that every grid needs: 64ths. */
const FINEST_GRID = 64;

const gcd = (a: number, b: number): number => {
  let x = a;
  let y = b;
  while (y !== 0) [x, y] = [y, x % y];
  return x;
};

const ticksFor = (bars: readonly Bar[]): number => {
  let ticks = FINEST_GRID;
  const seen = new Set<number>();
  const take = (value: Rational): void => {
    if (seen.has(value.den)) return;
    seen.add(value.den);
    ticks = (ticks / gcd(ticks, value.den)) * value.den;
  };
  for (const bar of bars) {
    for (const event of bar.events) take(event.length);
    take(metricalOffsetOf(bar));
  }
  return ticks;
};

/** A score time in ticks. */
export const inTicks = (value: Rational, ticks: number): number => (value.num * ticks) / value.den;

type Mutable<T> = { -readonly [K in keyof T]: T[K] };
interface Piece {
  until: number;
  tiedOut: boolean;
}
interface OpenTie {
  readonly root: Mutable<LineNote>;
  piece: Piece;
  bar: number;
}

const isContinued = (open: OpenTie | null, midi: number): open is OpenTie =>
  open !== null && open.root.midi === midi;

/** One bar's walk; the tie that is open goes in and comes out. */
const walkBar = (
  placed: PlacedBar,
  at0: { readonly number: number; readonly ticks: number; readonly open: OpenTie | null },
): { readonly bar: LineBar; readonly open: OpenTie | null } => {
  const { bar, part, index } = placed;
  const notes: LineNote[] = [];
  const rests: { at: number; until: number }[] = [];
  let carried: CarriedNote | null = null;
  let open = at0.open;
  let at = 0;
  let tuplet: Mutable<LineTuplet> | null = null;
  for (const event of bar.events) {
    const until = at + inTicks(event.length, at0.ticks);
    if (event.tuplet === null) tuplet = null;
    else if (event.tuplet.index === 0 || tuplet === null) tuplet = { from: at, whole: false };
    if (event.kind === 'rest') {
      rests.push({ at, until });
      open = null;
      if (tuplet !== null) tuplet.whole = true;
    } else {
      const midi = midiOf(event.pitches[0]);
      if (isContinued(open, midi)) {
        open.root.sounding += until - at;
        if (open.bar === at0.number) open.piece.until = until;
        else {
          const into: Mutable<CarriedNote> = { note: event, midi, until, tiedOut: false };
          open.piece.tiedOut = true;
          open = { root: open.root, piece: into, bar: at0.number };
          carried = into;
        }
        for (const inside of [tuplet, open.root.tuplet as Mutable<LineTuplet> | null])
          if (inside !== null) inside.whole = true;
        if (!event.tiedToNext) open = null;
      } else {
        const staffStep = staffStepOf(event.pitches[0]);
        const sounding = until - at;
        const root = { at, until, tiedOut: false, sounding, midi, staffStep, note: event, tuplet };
        notes.push(root);
        open = event.tiedToNext ? { root, piece: root, bar: at0.number } : null;
      }
    }
    at = until;
  }
  const offset = inTicks(metricalOffsetOf(bar), at0.ticks);
  return { bar: { bar, part, index, offset, length: at, notes, carried, rests }, open };
};

/**
 * The melody of a score as struck notes: what onsets, lengths and ties come to.
 *
 * A "tie" between different pitches is none. Written order: a tie over a repeat holds to the bar written next.
 */
export const lineOf = (score: Score): Line => {
  const placed = barsOf(score);
  const ticks = ticksFor(placed.map((p) => p.bar));
  let open: OpenTie | null = null;
  const bars = placed.map((one, number) => {
    const walked = walkBar(one, { number, ticks, open });
    open = walked.open;
    return walked.bar;
  });
  return { ticks, bars };
};
