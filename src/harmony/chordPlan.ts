import type { WholeNotes } from '../core/index.ts';
import type { Chord } from '../music/index.ts';

/** A chord for a stretch of one written bar; it never reaches over a bar line. */
export interface PlannedChord {
  /** Part label. */
  readonly part: string;
  /** Index among the part's written bars. */
  readonly bar: number;
  /** From the start of that bar. */
  readonly onset: WholeNotes;
  readonly length: WholeNotes;
  readonly chord: Chord;
  /** Whether the tune says it or we found it. */
  readonly source: 'written' | 'inferred';
}

/**
 * The chords of a whole tune in written order.
 *
 * Every full bar has one, or two halves at a cadence. A pick-up has none unless the tune says so: the backing comes in
 * on the first full bar, and between parts the chord before rings on.
 */
export type ChordPlan = readonly PlannedChord[];
