import { PRICE } from './alignData.ts';
import type { HeardNote } from './hear.ts';
import type { WrittenNote, WrittenTune } from './written.ts';

/** A heard note and the written one that it plays. */
export interface Match {
  /** Index of the heard note. */
  readonly heard: number;
  /** Indices of section and of the note in it. */
  readonly section: number;
  readonly note: number;
  /** Whether a new round of the section begins before this match. */
  readonly entered: boolean;
}

/** Where a recording follows a tune. */
export interface Alignment {
  readonly matches: readonly Match[];
  /** Semitones that the recording lies above what is written. */
  readonly transposition: number;
  /** Mean worth of a heard note: 1 where every note fits, about 0 where it is another tune. */
  readonly likeness: number;
}

/** A written note in the row of all sections. */
interface Place extends WrittenNote {
  readonly section: number;
  readonly note: number;
}

/** A way to step from one place to another: how many quavers on, how many written notes passed over. */
interface Step {
  readonly from: number;
  readonly quavers: number;
  readonly cost: number;
  /** A new round of the section begins. */
  readonly enters: boolean;
}

const placesOf = (tune: WrittenTune): readonly Place[] =>
  tune.sections.flatMap((s, section) => s.notes.map((n, note) => ({ ...n, section, note })));

/** From where each place can be reached. */
const stepsTo = (tune: WrittenTune, places: readonly Place[]): readonly (readonly Step[])[] => {
  const follows = new Set(tune.order.map((s, i) => `${s}>${tune.order[(i + 1) % tune.order.length]}`));
  const firstOf = tune.sections.map((_, s) => places.findIndex((p) => p.section === s));
  return places.map((place, j) => {
    const steps: Step[] = [];
    for (let back = 1; back <= PRICE.reach; back += 1) {
      const inside = places[j - back];
      const passed = PRICE.missed * (back - 1);
      if (back <= place.note && inside !== undefined)
        steps.push({ from: j - back, quavers: place.at - inside.at, cost: passed, enters: false });
      else
        for (const [s, section] of tune.sections.entries()) {
          // Notes at the end of the section before, as many back as the step still goes.
          const note = section.notes.length - (back - place.note);
          const before = section.notes[note];
          if (before === undefined) continue;
          const other = follows.has(`${s}>${place.section}`) ? 0 : PRICE.otherSection;
          const distance = section.length - before.at + place.at;
          steps.push({
            from: (firstOf[s] ?? 0) + note,
            quavers: distance,
            cost: passed + other,
            enters: true,
          });
        }
    }
    return steps;
  });
};

const fitOf = (heard: HeardNote, place: Place, transposition: number): number => {
  const off = Math.abs(heard.semitone - transposition - place.midi);
  if (off === 0) return PRICE.fits;
  return off === 12 ? PRICE.octaveOff : PRICE.otherPitch;
};

const isShort = (note: HeardNote): boolean => note.end - note.start < PRICE.short;

/** Price of passing over the heard notes between two that are matched. */
const extraBetween = (heard: readonly HeardNote[], from: number, to: number): number => {
  let sum = 0;
  for (let k = from + 1; k < to; k += 1) {
    const note = heard[k] as HeardNote;
    const again = note.semitone === heard[from]?.semitone;
    sum += isShort(note) ? PRICE.extraShort : again ? PRICE.extraAgain : PRICE.extra;
  }
  return sum;
};

const timingPrice = (time: number, expected: number): number => {
  const off = Math.log(Math.max(0.02, time) / Math.max(0.02, expected));
  return Math.min(PRICE.worstTiming, PRICE.timing * off * off);
};

/** The best score of each (heard, place), what it came from, and the tempo it was reached with. */
interface Board {
  readonly score: Float32Array;
  /** Index of the cell before, −1: the beginning, −2 − cell: from outside, where the tune was left in that cell. */
  readonly from: Int32Array;
  /** Seconds of a quaver. */
  readonly pace: Float32Array;
}

/** Best cell in which the tune may have been left, with what it is worth by now. */
interface Left {
  readonly worth: number;
  readonly cell: number;
}

const fill = (
  heard: readonly HeardNote[],
  places: readonly Place[],
  steps: readonly (readonly Step[])[],
  how: { readonly pace: number; readonly transposition: number },
): Board => {
  const width = places.length;
  const size = heard.length * width;
  const board = {
    score: new Float32Array(size).fill(-Infinity),
    from: new Int32Array(size),
    pace: new Float32Array(size),
  };
  let left: Left = { worth: 0, cell: -1 };
  for (let i = 0; i < heard.length; i += 1) {
    const note = heard[i] as HeardNote;
    let best: Left = { worth: left.worth - PRICE.outside, cell: left.cell };
    for (let j = 0; j < width; j += 1) {
      const place = places[j] as Place;
      const fit = fitOf(note, place, how.transposition);
      const cell = i * width + j;
      if (fit > 0) enterFromOutside(board, cell, { left, place, fit, pace: how.pace, width, j });
      for (const step of steps[j] as readonly Step[]) {
        for (let back = 1; back <= PRICE.reach && back <= i; back += 1) {
          const before = (i - back) * width + step.from;
          const reached = board.score[before] as number;
          if (reached + fit <= (board.score[cell] as number)) continue;
          const time = note.start - (heard[i - back] as HeardNote).start;
          const pace = board.pace[before] as number;
          const cost = step.cost + extraBetween(heard, i - back, i) + timingPrice(time, step.quavers * pace);
          if (reached + fit - cost <= (board.score[cell] as number)) continue;
          board.score[cell] = reached + fit - cost;
          board.from[cell] = before;
          board.pace[cell] = step.quavers > 0 ? follow(pace, time / step.quavers, how.pace) : pace;
        }
      }
      if ((board.score[cell] as number) > best.worth) best = { worth: board.score[cell] as number, cell };
    }
    left = best;
  }
  return board;
};

/** The tempo after a step: drawn towards what was played, but never far from the whole recording's. */
const follow = (pace: number, played: number, usual: number): number => {
  const next = pace + PRICE.follows * (Math.max(0.6 * pace, Math.min(1.6 * pace, played)) - pace);
  return Math.max(0.7 * usual, Math.min(1.45 * usual, next));
};

const enterFromOutside = (
  board: Board,
  cell: number,
  at: { left: Left; place: Place; fit: number; pace: number; width: number; j: number },
): void => {
  const { left, place, fit } = at;
  const goesOn = left.cell >= 0 && (left.cell % at.width) + 1 === at.j;
  if (!place.first && !goesOn && place.note > 0) return;
  const cost = left.cell < 0 ? 0 : goesOn ? PRICE.comesBack : PRICE.comesBackElsewhere;
  const score = left.worth + fit - cost;
  if (score <= (board.score[cell] as number)) return;
  board.score[cell] = score;
  board.from[cell] = left.cell < 0 ? -1 : -2 - left.cell;
  board.pace[cell] = at.pace;
};

/** Coming back into the tune further on in the same section goes on with its round. */
const begins = (match: Match, before: Match | undefined): boolean =>
  before === undefined || before.section !== match.section || match.note <= before.note;

/** The path back from the best cell. */
const pathOn = (
  board: Board,
  places: readonly Place[],
  steps: readonly (readonly Step[])[],
): { matches: Match[]; worth: number } => {
  const width = places.length;
  let cell = -1;
  let worth = 0;
  board.score.forEach((score, c) => {
    if (score > worth) [worth, cell] = [score, c];
  });
  const matches: Match[] = [];
  while (cell >= 0) {
    const place = places[cell % width] as Place;
    const before = board.from[cell] as number;
    const entered =
      before >= 0 && (steps[cell % width] ?? []).some((s) => s.from === before % width && s.enters);
    matches.push({ heard: Math.floor(cell / width), section: place.section, note: place.note, entered });
    cell = before <= -2 ? -2 - before : before;
  }
  return {
    matches: matches.reverse().map((m, i) => ({ ...m, entered: m.entered || begins(m, matches[i - 1]) })),
    worth,
  };
};

/** Semitones that a recording may lie above what is written. */
const MOST_TRANSPOSED = 12;
/** Transpositions that are tried in full, likeliest first, and on so many notes. */
const TRIED = 4;
const TRIED_NOTES = 260;

/** Transpositions whose pitch classes agree best with those heard. */
const likelyTranspositions = (heard: readonly HeardNote[], places: readonly Place[]): readonly number[] => {
  const histogram = (notes: readonly { midi: number; length: number }[]): Map<number, number> => {
    const counts = new Map<number, number>();
    for (const { midi, length } of notes) counts.set(midi, (counts.get(midi) ?? 0) + length);
    return counts;
  };
  const played = histogram(heard.map((n) => ({ midi: n.semitone, length: Math.min(0.4, n.end - n.start) })));
  const written = histogram(places);
  const agreement = (by: number): number =>
    [...written].reduce((sum, [midi, length]) => sum + Math.sqrt(length * (played.get(midi + by) ?? 0)), 0);
  return Array.from({ length: 2 * MOST_TRANSPOSED + 1 }, (_, i) => i - MOST_TRANSPOSED)
    .sort((a, b) => agreement(b) - agreement(a))
    .slice(0, TRIED);
};

/**
 * Finds a written tune in a recording: which heard note plays which written one, through repeats in whatever order and
 * number, stops and talk.
 *
 * The best path over (heard note, written note): notes that fit are worth 1, what is left out, added or out of time costs.
 * @param pace - seconds of a quaver, roughly
 */
export const align = (heard: readonly HeardNote[], tune: WrittenTune, pace: number): Alignment => {
  const places = placesOf(tune);
  if (places.length === 0 || heard.length === 0) return { matches: [], transposition: 0, likeness: 0 };
  const steps = stepsTo(tune, places);
  const middle = Math.max(0, Math.floor((heard.length - TRIED_NOTES) / 2));
  const some = heard.slice(middle, middle + TRIED_NOTES);
  const tried = likelyTranspositions(heard, places).flatMap((transposition) =>
    [pace, pace / 2, pace * 2].map((p) => {
      const board = fill(some, places, steps, { pace: p, transposition });
      return { transposition, pace: p, worth: pathOn(board, places, steps).worth };
    }),
  );
  const best = tried.reduce((a, b) => (b.worth > a.worth ? b : a));
  const { matches, worth } = pathOn(fill(heard, places, steps, best), places, steps);
  const first = matches[0]?.heard ?? 0;
  const last = matches.at(-1)?.heard ?? -1;
  const long = heard.slice(first, last + 1).filter((n) => !isShort(n)).length;
  return { matches, transposition: best.transposition, likeness: worth / Math.max(1, long) };
};
