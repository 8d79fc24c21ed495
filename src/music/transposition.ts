import type { Interval } from './interval.ts';
import { accidentalsOf, fifthsOf, type Key } from './key.ts';
import {
  type Alter,
  chromaOf,
  midiOf,
  type Pitch,
  type PitchClass,
  pitchAtStaffStep,
  STEPS,
  type Step,
  staffStepOf,
  stepIndex,
} from './pitch.ts';

/** Semitones above C of the seven letters, as far up or down as one goes. */
const naturalHeight = (staffStep: number): number => midiOf(pitchAtStaffStep(staffStep, 0));
/** A staff step in the middle: any octave will do. */
const SOME_OCTAVE = 28;

/** By how many semitones a note's sign changes when a letter is moved: sharper where positive. */
const signShift = (step: Step, { steps, semitones }: Interval): number => {
  const from = SOME_OCTAVE + stepIndex(step);
  return semitones - (naturalHeight(from + steps) - naturalHeight(from));
};

/** The letter that a letter is moved to. */
const movedStep = (step: Step, { steps }: Interval): Step =>
  STEPS[(((stepIndex(step) + steps) % 7) + 7) % 7] ?? step;

const isAlter = (n: number): n is Alter => Number.isInteger(n) && Math.abs(n) <= 2;

/**
 * A pitch moved by an interval, spelled by its letters.
 * @returns spelled otherwise, with the fewest signs, where it would need three of them
 * @example transposedPitch(pitch('F#4'), { steps: 1, semitones: 2 }) // G#4
 */
export const transposedPitch = (pitch: Pitch, interval: Interval): Pitch => {
  const alter = pitch.alter + signShift(pitch.step, interval);
  const place = staffStepOf(pitch) + interval.steps;
  if (isAlter(alter)) return pitchAtStaffStep(place, alter);
  const wanted = naturalHeight(place) + alter;
  const near = [place - 2, place - 1, place + 1, place + 2];
  const [best = place] = near.toSorted(
    (a, b) => Math.abs(wanted - naturalHeight(a)) - Math.abs(wanted - naturalHeight(b)),
  );
  return pitchAtStaffStep(best, (wanted - naturalHeight(best)) as Alter);
};

/** A note name moved by an interval. */
export const transposedNote = (note: PitchClass, interval: Interval): PitchClass => {
  const { step, alter } = transposedPitch({ ...note, octave: 4 }, interval);
  return { step, alter };
};

/** Whole octaves, up or down: names stay. */
export const isOctaves = ({ steps, semitones }: Interval): boolean =>
  steps % 7 === 0 && semitones === (steps / 7) * 12;

/**
 * A key moved by an interval: its mode stays.
 *
 * A key without a plain signature (none, the pipes') becomes one that prints just its accidentals.
 * @returns null when it would need more than seven sharps or flats, or a letter more than two
 */
export const transposedKey = (key: Key, interval: Interval): Key | null => {
  if (isOctaves(interval)) return key;
  const accidentals: Record<Step, Alter> = { ...accidentalsOf(0) };
  for (const step of STEPS) {
    const alter = key.accidentals[step] + signShift(step, interval);
    if (!isAlter(alter)) return null;
    accidentals[movedStep(step, interval)] = alter;
  }
  const tonic = key.tonic === null ? null : transposedNote(key.tonic, interval);
  if (key.signature !== 'mode' || tonic === null || key.mode === null)
    return { tonic, mode: key.mode, accidentals, signature: 'explicit' };
  return Math.abs(fifthsOf(tonic, key.mode)) > 7 || Math.abs(tonic.alter) > 1
    ? null
    : { tonic, mode: key.mode, accidentals, signature: 'mode' };
};

/** From one note name up to another: 0 to 6 letters, and the semitones between them. */
export const upTo = (from: PitchClass, to: PitchClass): Interval => {
  const steps = (stepIndex(to.step) - stepIndex(from.step) + 7) % 7;
  const semitones = (chromaOf(to) - chromaOf(from) + 12) % 12;
  // "F♯ up to G♭" is one letter and no semitone; a name just below the octave is down, not up.
  return steps === 0 && semitones > 6
    ? { steps, semitones: semitones - 12 }
    : steps === 6 && semitones < 3
      ? { steps, semitones: semitones + 12 }
      : { steps, semitones };
};
