import type { WholeNotes } from '../core/index.ts';
import type { Pitch } from '../music/index.ts';

/**
 * How much a dissonance is heard.
 *
 * `clash`: a note is struck on a pulse against one that is held or struck with it. `exposed`: off the pulse, but it stays a pulse
 * or longer, or is left by a leap, so that nothing resolves it. `passing`: a step on the way, soon gone, as every tune has them.
 */
export type Strength = 'clash' | 'exposed' | 'passing';

/** A minor second, major seventh or tritone that arises where a version strikes a note while another one sounds. */
export interface Dissonance {
  readonly part: string;
  /** Index among the part's written bars. */
  readonly bar: number;
  /** Printed number; null in a pick-up or rest of a bar. */
  readonly number: number | null;
  readonly onset: WholeNotes;
  readonly length: WholeNotes;
  /** Beat of the metre as written, from 1; a fraction between beats. */
  readonly beat: number;
  readonly held: Pitch;
  readonly struck: Pitch;
  /** Which of the versions holds, and which strikes, by their order in the question; the earlier one first if both strike. */
  readonly versions: readonly [number, number];
  readonly strength: Strength;
}

/** Bars that can't be sounded together: their lengths differ, or one version has not got them. */
export interface UnlikeBar {
  readonly part: string;
  readonly bar: number;
  readonly number: number | null;
}

/** How versions of one tune go together. */
export interface Fit {
  /** No clash on a pulse, and the same bars. */
  readonly fits: boolean;
  /** For people: "Fits. Listen at bars 6 and 13." */
  readonly words: string;
  /** Share of pulses, among those where all versions sound, on which they have one pitch (octaves apart count). */
  readonly pulsesInUnison: number;
  /** Share of the time in which all versions sound that they have one pitch. */
  readonly timeInUnison: number;
  readonly dissonances: readonly Dissonance[];
  readonly unlikeBars: readonly UnlikeBar[];
}
