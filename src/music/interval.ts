import { midiOf, type Pitch, staffStepOf } from './pitch.ts';

/** Distance from one pitch up (positive) or down to another. */
export interface Interval {
  /** Staff steps: a third is 2. */
  readonly steps: number;
  readonly semitones: number;
}

/** How far is it from a to b? */
export const intervalBetween = (a: Pitch, b: Pitch): Interval => ({
  steps: staffStepOf(b) - staffStepOf(a),
  semitones: midiOf(b) - midiOf(a),
});

/** A perfect fifth, in semitones; a larger leap counts as wide. */
export const FIFTH = 7;
/** An octave, in semitones. */
const OCTAVE = 12;

/**
 * Whether two pitches sounded together on a beat grate: minor second, major seventh, tritone, octaves apart or not.
 * @see Ours: the list that the fit of versions is judged by
 */
export const isHarsh = (a: Pitch, b: Pitch): boolean => {
  const distance = Math.abs(midiOf(a) - midiOf(b)) % OCTAVE;
  return distance === 1 || distance === 11 || distance === 6;
};
