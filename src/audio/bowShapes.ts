import type { Entry, Exit } from './bowing.ts';

// Ours throughout: tuned on the dry fiddle stem until notes speak at once, strokes are told apart and slurs are not.
// The bounds they keep: attack to 90 % in 15 ms, dips of a treble 15 dB, a cut 25 dB above the note it interrupts.

/** How a note comes in. */
export interface EntryShape {
  /** From nothing to full strength, seconds. */
  readonly rise: number;
  /** Bow noise at the stroke's start against the tone's level; 0 where the stroke goes on. */
  readonly bite: number;
  /** Strength of the upper partials at the start; they are all there after `OPENING`. */
  readonly colour: number;
}

/** A stroke's upper partials take this long to speak, seconds. */
export const OPENING = 0.03;

/** How each entry sounds. */
export const ENTRIES: Readonly<Record<Entry, EntryShape>> = {
  stroke: { rise: 0.011, bite: 0.16, colour: 0.6 },
  shortStroke: { rise: 0.007, bite: 0.18, colour: 0.75 },
  slurred: { rise: 0.008, bite: 0, colour: 1 },
  flicked: { rise: 0.004, bite: 0, colour: 1 },
};

/** How a note goes out: it begins to fall `before` its end, has fallen to `floor` at its end, is silent `after` it. */
export interface ExitShape {
  readonly before: number;
  readonly floor: number;
  readonly after: number;
}

/** How each exit sounds. Handing over takes as long as the next note's rise, so that the two cross. */
export const EXITS: Readonly<Record<Exit, ExitShape>> = {
  stop: { before: 0.02, floor: 0.5, after: 0.09 },
  turn: { before: 0.011, floor: 0.28, after: 0.011 },
  ring: { before: 0.02, floor: 0.42, after: 0.4 },
  lift: { before: 0.016, floor: 0.02, after: 0.002 },
  handOver: { before: 0, floor: 1, after: ENTRIES.slurred.rise },
  handOverAtOnce: { before: 0, floor: 1, after: ENTRIES.flicked.rise },
};

/** The bow tires: level falls by this many decibels a second within a stroke, at most by `MOST_TIRING`. */
export const TIRING = 7;
/** Most that the bow tires within a stroke, decibels. */
export const MOST_TIRING = 2.5;
