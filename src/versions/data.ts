import type { DanceId } from '../music/index.ts';
import type { Density } from './settings.ts';

/**
 * What it costs to leave a note of the plain version out of the bones, by what the note is; costs of one note add up.
 * @see Ours: tuned on the shared O'Neill and Nottingham halves
 */
export const DROP = {
  /** Any note at all. */
  any: 0.25,
  /** No note is left out for nothing. */
  least: 0.05,
  /** On a beat. */
  beat: 14,
  /** On an off-beat (second and fourth crotchet of a reel). */
  offBeat: 2.5,
  /** A beat's note in a dance of snaps, where every crotchet is a beat. */
  snappedBeat: 8,
  /** On an off-beat that repeats the note of its beat: holding it says the same. */
  offBeatRepeated: 0.5,
  /** Longer than a running note. */
  long: 14,
  /** A dotted running note. */
  dotted: 2.5,
  /** The last note of a part. */
  final: 30,
  /** An accented note of the first two bars: the tune's thematic code. */
  code: 16,
  /** The highest note of the part, wherever it is struck. */
  highest: 1.5,
  /** Higher than both neighbours. */
  peak: 0.7,
  /** Lower than both neighbours. */
  trough: 0.2,
  /** A tone of the chord that goes with it. */
  chordTone: 0.5,
  /** A step on the way between two others. */
  passing: -0.35,
  /** The note before once more. */
  repeated: -0.45,
  /** Left and reached by a leap. */
  leaping: 0.4,
  /** Struck after another in the same running-note place. */
  ornamental: -0.5,
} as const;

/**
 * What a figure costs, by which running-note places of its cell are struck (1) or not (0).
 *
 * A figure that the plain version has itself costs nothing, but for runs of quavers that are kept whole.
 * @see Ours: the order of the trade (crotchet and two quavers first), tuned on the shared halves
 */
export const FIGURES: Readonly<Record<string, number>> = {
  // Half a bar of four running notes.
  '1011': 0,
  '1010': 0.15,
  '1110': 1,
  '1001': 0.5,
  '1000': 6,
  '1111': 2.3,
  '1101': 9,
  '1100': 7,
  // A beat of three.
  '101': 0,
  '100': 1.8,
  '111': 2.8,
  '110': 7,
  // A crotchet of two.
  '10': 0,
  '11': 0.2,
};
/** A figure of the table whose cell begins with a note held over from before. Ours. */
export const HELD_INTO_CELL = 3;
/** A figure that no table lists, when the plain version has not got it. Ours. */
export const STRANGE_FIGURE = 9;
/** A cell that is crotchet and quavers, or crotchet and quaver, already: it asks to be left alone. Ours. */
export const GOOD_FIGURE_CHANGED = 2;
/** A run that is kept whole though nothing about it is a figure of the trade. Ours. */
export const ODD_RUN_KEPT = 0.8;
/** A second note struck in one running-note place: semiquavers, snaps, dotted pairs. Ours. */
export const EXTRA_IN_PLACE = 1.8;
/** The same where snaps and dots are the dance's character. Ours. */
export const EXTRA_IN_PLACE_SNAPPED = 0.3;

/** What a whole bar of bones costs. Ours: tuned on the shared O'Neill and Nottingham halves. */
export const BAR = {
  /** For each running-note place away from the bar's target, squared. */
  density: 1,
  /** The same where snaps and dots are the dance's character: two of them in a crotchet are one thing. */
  densitySnapped: 0.3,
  /** An odd number of strokes, where an even number brings the bow round. */
  oddStrokes: 3.2,
  /** The same in jig time, where the trade minds it less. */
  oddStrokesOfThrees: 0.6,
  /** A bar with a run left just as it is. */
  runLeft: 2,
  /** A pick-up of one or two notes thinned. */
  pickupThinned: 1.5,
  /** Nothing but pulses where the plain bar runs. */
  bare: 2,
  /** The same as a bare bar after a bare bar. */
  bareAgain: 0.5,
  /** A length that takes two note heads and a tie, where the plain version has one note head. */
  tiedLength: 6,
  /** No note of a pulse or longer. */
  noLongNote: 14,
  /** The same where snaps and dots are the dance's character: a bar may be all snaps. */
  noLongNoteSnapped: 1.5,
  /** One note where the plain bar has more. */
  oneNote: 12,
  /** A held note against a plain note a minor second, major seventh or tritone away, off the pulse. */
  harsh: 0.75,
  /** The same on a pulse. */
  clash: 60,
  /** A note that is held over a pulse from an off-pulse place, when the plain version has a note there. */
  syncopation: 12,
  /** The same within a pulse: a note from inside a running-note place held over the next, or struck there alone. */
  lateInPlace: 5,
  /** The same note struck again off the pulse. */
  repeatedOff: 0.6,
  /** The same note struck again off the pulse, the turn between left out: "c A B c" as "c3 c", "B A B" as "B2 B". */
  turnToRepeat: 1.9,
  /** The same note struck again on a pulse, the plain version's motion between and after it left out. */
  dullPair: 0.9,
} as const;

/** What a new neighbourhood of two notes costs the hands. Ours: tuned on the shared halves. */
export const HANDS = {
  /** Leap over a fifth that the plain version has not got. */
  overFifth: 2.4,
  /** For each semitone beyond. */
  beyondFifth: 0.3,
  /** Leap over an octave. */
  overOctave: 25,
  /** A tritone or a seventh. */
  awkward: 0.6,
  /** For each string crossed, after the first. */
  skippedString: 0.7,
  /** A crossing there and back. */
  thereAndBack: 0.25,
} as const;

/** What a step of density changes. */
export interface DensityStep {
  /** Added to the usual share of running-note places that a running bar fills. */
  readonly fill: number;
  /** What is left of the costs of dull bars and of changing a good figure. */
  readonly dull: number;
  /** What is left of the costs of runs that stay whole. */
  readonly runs: number;
}

/** The steps of density; `usual` is the dance's own. Ours: tuned on the shared O'Neill and Nottingham halves. */
export const STEPS: Readonly<Record<Density, DensityStep>> = {
  barest: { fill: -0.3, dull: 0, runs: 1 },
  sparser: { fill: -0.14, dull: 0.3, runs: 1 },
  usual: { fill: 0, dull: 1, runs: 1 },
  fuller: { fill: 0.14, dull: 1, runs: 0.6 },
  fullest: { fill: 0.28, dull: 1, runs: 0.15 },
};
/** The usual fill of a bar by dance. Ours, after common practice: reels two or three crotchets, jigs crotchet and quaver. */
export const USUAL_FILL: Readonly<Record<DanceId, number>> = {
  reel: 0.58,
  jig: 0.64,
  slipJig: 0.64,
  slide: 0.64,
  hornpipe: 0.59,
  barndance: 0.59,
  strathspey: 0.66,
  polka: 0.59,
  march: 0.64,
  compoundMarch: 0.64,
  waltz: 0.59,
  mazurka: 0.59,
  threeTwo: 0.6,
  setDance: 0.59,
  air: 0.6,
  tune: 0.59,
};
/** The hook, the first two full bars of a part, is a little fuller; the bar before the close leaves room. Ours. */
export const FILL_HOOK = 0.08;
/** See `FILL_HOOK`. */
export const FILL_CADENCE = -0.06;
/** A pick-up of so many running notes leads in as everybody knows it, and is left alone. Common practice. */
export const MOST_IN_PICKUP = 2;
/** A tune whose running bars are fuller than this on the whole is gone over with a lower aim. Ours. */
export const MOST_FILL = 0.7;
/** Such a tune is gone over only if at least this share of its bars runs: a few running bars may be as full as they like. Ours. */
export const MOSTLY_RUNNING = 0.35;
/** How much lower, and how often at most. Ours. */
export const AIM_STEP = { by: 0.03, times: 8 } as const;
/** A bar of figures of the trade that is no fuller is simple already and left alone, but for sparser bones. Ours. */
export const SIMPLE_FILL = 2 / 3;
/** Bars at the start of a part that make its hook. Common practice; thematic codes use them (Breathnach 1982, Gore 1994). */
export const HOOK_BARS = 2;

/** How wide the search is: choices kept for a cell, and for a bar. Ours: wider changes under one bar in a hundred. */
export const WIDTH = { cell: 10, bar: 20 } as const;
/** A cell with more notes than this has its lightest left out before the search. Ours. */
export const MOST_WEIGHED = 7;
/** How much of a cell's cost is that of its transposed repeats in the same part. Ours. */
export const SEQUENCE_SHARE = 0.5;
/** How often the choice for equal cells is gone over at most. Ours: it is steady after two or three. */
export const MOST_ROUNDS = 6;
/**
 * How many bars a teacher is offered, and how many ways to thin a cell are tried for them, by how many cells the bar
 * has; bars of more cells are searched as for the bones. Ours: fifty to a hundred bars are judged for one offer.
 */
export const CHOICES = { most: 5, mostCells: 4, triedOf: [1, 8, 5, 3, 2] } as const;
