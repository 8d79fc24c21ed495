import type { OrnamentKind } from './ornaments.ts';

/**
 * What each thing adds to a bar's work, in units of one struck note.
 *
 * Nothing that leaving out a note can bring about (a wider crossing, one finger for two places, an odd number of strokes)
 * weighs as much as the note or the slur that went: so a bar with fewer notes is never harder.
 * @see Ours: by a fiddler's judgement, tuned on full, plain and bones of the shared O'Neill and Nottingham halves
 */
export const WORK = {
  note: 1,
  /** To the next string; twice and three times as much over one and two strings. */
  crossing: 0.3,
  /** One finger from place to place: along its string, or on neighbouring strings where it can't be laid across. */
  awkward: 0.4,
  fourthFinger: 0.25,
  /** Fourth finger drawn back or stretched, third finger stretched. */
  outOfFrame: 0.2,
  /** Third finger in the place of a high second. */
  thirdForSecond: 0.5,
  aboveFirstPosition: 0.4,
  slur: 0.3,
  /** An odd number of strokes, which turns the bow round. */
  turnsBow: 0.3,
} as const;

/**
 * What an ornament adds, beside the notes it is written with.
 * @see Ours: by a fiddler's judgement
 */
export const ORNAMENT_WORK: Readonly<Record<OrnamentKind, number>> = {
  cut: 0.8,
  strike: 0.9,
  doubleGrace: 1.4,
  graceRun: 2,
  longRoll: 2.5,
  shortRoll: 2.7,
  treble: 0.8,
  runTriplet: 0.3,
  turnTriplet: 0.4,
  arpeggioTriplet: 0.5,
  slide: 0.3,
  trill: 1.5,
  turn: 2,
  upperMordent: 1.2,
  lowerMordent: 1.2,
  drone: 0.4,
  laidFinger: 0.5,
  unison: 0.7,
  doubleStop: 0.8,
};

/** How hard, for people. */
export type DifficultyWord = 'very easy' | 'easy' | 'moderate' | 'hard' | 'very hard';

/**
 * From how much work a second on each word is used.
 * @see Ours: at `steady` most bones of the shared corpora come out easy (median 3.0), most full versions moderate (4.2)
 */
export const WORDS_FROM: readonly (readonly [number, DifficultyWord])[] = [
  [7, 'very hard'],
  [5.25, 'hard'],
  [3.75, 'moderate'],
  [2.5, 'easy'],
  [0, 'very easy'],
];
