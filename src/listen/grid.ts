import type { HeardNote } from './hear.ts';

/** A note on the grid of quavers. */
export interface GridNote {
  /** Index of the heard note. */
  readonly heard: number;
  /** Quavers since the first note of the grid; a stop is counted in quavers, too. */
  readonly at: number;
  /** First or second quaver of a pair. */
  readonly phase: number;
}

/** The quavers that a recording was played in, found without knowing the tune. */
export interface Grid {
  /** Notes that stand on a quaver; ornaments and notes between are left out. */
  readonly notes: readonly GridNote[];
  /** Seconds of a quaver, the middle over the recording. */
  readonly pace: number;
  /** Long : short that fits best, of those tried: rough. */
  readonly swing: number;
  /** Mean price of a note: low where the notes keep time. */
  readonly price: number;
}

/** Swings that are tried. */
const SWINGS = [1, 1.2, 1.4, 1.65, 2] as const;
/** Tempi that are tried about the usual one: steps up and down, and each as a ratio. */
const TEMPO_STEPS = 8;
const TEMPO_STEP = 1.03;
const TEMPI = 2 * TEMPO_STEPS + 1;
/** Quavers that a note may last, and what each more than the first costs. */
const MOST_QUAVERS = 8;
const PER_QUAVER = 0.15;
/** Notes that may be passed over, short ones cheaply. */
const REACH = 5;
const PASSED = 1.1;
const PASSED_SHORT = 0.3;
const SHORT = 0.085;
/** How far from its place a note lies usually: seconds, and share of the time since the note before. */
const LOOSE = 0.014;
const LOOSE_SHARE = 0.035;
const WORST = 6;
/** A change of tempo by one step. */
const PER_STEP = 0.5;
/** A stop: what starting the grid anew costs. */
const ANEW = 5;

interface Cell {
  price: number;
  /** Note before, tempo and phase there; −1: the grid starts. */
  before: number;
  quavers: number;
}

/** States of a note: tempo × phase. */
const STATES = TEMPI * 2;

interface Search {
  readonly starts: Float64Array;
  /** Price of passing over the notes before each: running sums. */
  readonly passed: Float64Array;
  readonly paces: readonly number[];
  /** Share of a pair that its first quaver takes. */
  readonly long: number;
}

/** Seconds from a phase over so many quavers. */
const spanOf = (search: Search, tempo: number, phase: number, quavers: number): number => {
  const pair = 2 * (search.paces[tempo] as number);
  const placeOf = (q: number): number => Math.floor(q / 2) * pair + (q % 2 === 1 ? search.long * pair : 0);
  return placeOf(phase + quavers) - placeOf(phase);
};

/** The best way to a note in a tempo and phase. */
const bestCell = (board: readonly Cell[][], search: Search, i: number, state: number): Cell => {
  const tempo = state >> 1;
  const phase = state & 1;
  const { starts, passed } = search;
  let best: Cell = { price: (passed[i] as number) + (i === 0 ? 0 : ANEW), before: -1, quavers: 0 };
  for (let back = 1; back <= REACH && back <= i; back += 1) {
    const row = board[i - back] as Cell[];
    const time = (starts[i] as number) - (starts[i - back] as number);
    const skipped = (passed[i] as number) - (passed[i - back + 1] as number);
    const loose = LOOSE + LOOSE_SHARE * time;
    const about = time / (search.paces[tempo] as number);
    if (about > MOST_QUAVERS + 1) {
      const rested = (row[state] as Cell).price + ANEW + skipped;
      const quavers = 2 * Math.round((about + ((phase - (state & 1)) % 2)) / 2);
      if (rested < best.price) best = { price: rested, before: (i - back) * STATES + state, quavers };
      continue;
    }
    for (
      let quavers = Math.max(1, Math.floor(about - 0.7));
      quavers <= Math.min(MOST_QUAVERS, about + 1.7);
      quavers += 1
    ) {
      const from = (phase + 2 * MOST_QUAVERS - quavers) % 2;
      const off = (time - spanOf(search, tempo, from, quavers)) / loose;
      const timing = Math.min(WORST, 0.5 * off * off);
      for (let shift = -1; shift <= 1; shift += 1) {
        const other = tempo + shift;
        if (other < 0 || other >= TEMPI) continue;
        const before = row[other * 2 + from] as Cell;
        const price =
          before.price + skipped + timing + PER_QUAVER * (quavers - 1) + PER_STEP * Math.abs(shift);
        if (price < best.price) best = { price, before: (i - back) * STATES + other * 2 + from, quavers };
      }
    }
  }
  return best;
};

const gridWith = (heard: readonly HeardNote[], pace: number, swing: number): Grid => {
  const passed = new Float64Array(heard.length + 1);
  heard.forEach((n, i) => {
    passed[i + 1] = (passed[i] as number) + (n.end - n.start < SHORT ? PASSED_SHORT : PASSED);
  });
  const search: Search = {
    starts: Float64Array.from(heard, (n) => n.start),
    passed,
    paces: Array.from({ length: TEMPI }, (_, b) => pace * TEMPO_STEP ** (b - TEMPO_STEPS)),
    long: swing / (1 + swing),
  };
  const board: Cell[][] = [];
  for (let i = 0; i < heard.length; i += 1)
    board.push(Array.from({ length: STATES }, (_, state) => bestCell(board, search, i, state)));
  let [last, price] = [0, Infinity];
  for (let i = Math.max(0, heard.length - REACH); i < heard.length; i += 1)
    board[i]?.forEach((cell, state) => {
      const whole = cell.price + (passed[heard.length] as number) - (passed[i + 1] as number);
      if (whole < price) [price, last] = [whole, i * STATES + state];
    });
  const path: { heard: number; quavers: number; phase: number; pace: number }[] = [];
  for (let at = last; at >= 0; ) {
    const [i, state] = [Math.floor(at / STATES), at % STATES];
    const cell = board[i]?.[state] as Cell;
    path.push({
      heard: i,
      quavers: cell.quavers,
      phase: state & 1,
      pace: search.paces[state >> 1] as number,
    });
    at = cell.before;
  }
  path.reverse();
  let at = path[0]?.phase ?? 0;
  const notes = path.map((p) => {
    at += p.quavers;
    return { heard: p.heard, at, phase: p.phase };
  });
  const paces = path.map((p) => p.pace).sort((a, b) => a - b);
  return { notes, pace: paces[paces.length >> 1] ?? pace, swing, price: price / Math.max(1, heard.length) };
};

/**
 * Lays a grid of quavers under the notes: the cheapest path over (note, tempo, place in the pair), for each swing.
 * @param pace - seconds of a quaver, roughly
 */
export const gridOf = (heard: readonly HeardNote[], pace: number): Grid =>
  SWINGS.map((swing) => gridWith(heard, pace, swing)).reduce((a, b) => (b.price < a.price ? b : a));
