import type { Pitch } from '../music/index.ts';
import type { Finger } from '../score/index.ts';
import { placesOfPitch, type StringPlace, type Tuning } from './tuning.ts';

/** Hand position on the fingerboard: 1 is first position. */
export type Position = 1 | 2 | 3 | 4 | 5 | 6 | 7;

/** One way to stop one pitch: a finger on a string, with the hand in a position. */
export interface Hold {
  /** The string, 0 for the lowest. */
  readonly place: number;
  readonly finger: Finger;
  readonly position: Position;
  /** Above the open string. */
  readonly semitones: number;
  /** What it costs by itself. */
  readonly cost: number;
}

/**
 * What a finger costs by itself, in units of which two crossings there and back cost a little more than the fourth finger.
 * @see Ours: tuned on the professionals' shares of fingers (TNUA violin fingering data set, IUI 2021)
 */
const COST = {
  fourth: 0.45,
  /** The finger that the letter does not name: D♯ is a third finger on A, E♭ a fourth. */
  otherLetter: 0.25,
  /** The fourth finger on a flat that its letter gives it. */
  drawnBack: 0.2,
  stretched: 0.7,
  thirdForSecond: 0.8,
  outOfFirst: 0.3,
} as const;

/** Fingers of first position by semitones above the open string. Common practice. */
const FIRST_POSITION: readonly (readonly Finger[])[] = [[0], [1], [1], [2], [2, 3], [3], [3, 4], [4], [4]];

/** Semitones that only a stretched fourth finger reaches in first position. */
const STRETCH = 8;
/** Semitones at which third and fourth finger meet. */
const BETWEEN = 6;
/** Semitones of a high second finger. */
const HIGH_SECOND = 4;

const costInFirst = (finger: Finger, { semitones, steps }: StringPlace): number => {
  if (semitones === BETWEEN && finger === 4 && steps === 4) return COST.drawnBack;
  let cost = finger === 4 ? COST.fourth : 0;
  if (semitones === BETWEEN && finger !== steps) cost += COST.otherLetter;
  if (semitones === HIGH_SECOND && finger === 3) cost += COST.thirdForSecond;
  return semitones === STRETCH ? cost + COST.stretched : cost;
};

const inFirst = (at: StringPlace): readonly Hold[] =>
  (FIRST_POSITION[at.semitones] ?? []).map((finger) => ({
    place: at.place,
    finger,
    position: 1,
    semitones: at.semitones,
    cost: costInFirst(finger, at),
  }));

/** Above first position fingers follow the letters: in third position the first finger lies where the third lay. */
const inPosition = (at: StringPlace, position: Position): readonly Hold[] => {
  const finger = at.steps - (position - 1);
  if (position === 1) return inFirst(at);
  if (finger < 1 || finger > 4 || at.semitones === 0) return [];
  const cost = COST.outOfFirst + (finger === 4 ? COST.fourth : 0);
  return [{ place: at.place, finger: finger as Finger, position, semitones: at.semitones, cost }];
};

const POSITIONS: readonly Position[] = [1, 2, 3, 4, 5, 6, 7];

const holdsUpTo = (places: readonly StringPlace[], highest: Position): readonly Hold[] =>
  places.flatMap((at) => POSITIONS.filter((p) => p <= highest).flatMap((p) => inPosition(at, p)));

/** Without a stretch where there is another way. */
const unstretched = (holds: readonly Hold[]): readonly Hold[] => {
  const easy = holds.filter((h) => !(h.position === 1 && h.semitones === STRETCH));
  return easy.length > 0 ? easy : holds;
};

/** The lowest positions that reach at all, for pitches beyond the asked ones. */
const lowestReaching = (places: readonly StringPlace[]): readonly Hold[] => {
  const all = holdsUpTo(places, 7);
  const lowest = Math.min(...all.map((h) => h.position));
  return all.filter((h) => h.position === lowest);
};

/**
 * In which ways can this pitch be held?
 * @param highest - the highest position that the hand may take; a pitch beyond its reach takes the lowest that reaches
 * @param written - the finger that the tune asks for: then only ways with that finger, in whatever position it needs
 * @returns empty for a pitch below the lowest string or beyond seventh position
 */
export const holdsOf = (
  at: Pitch,
  tuning: Tuning,
  highest: Position,
  written: Finger | null,
): readonly Hold[] => {
  const places = placesOfPitch(at, tuning);
  const usual = unstretched(holdsUpTo(places, highest));
  const holds = usual.length > 0 ? usual : lowestReaching(places);
  if (written === null) return holds;
  const asked = holds.filter((h) => h.finger === written);
  if (asked.length > 0) return asked;
  const anywhere = holdsUpTo(places, 7).filter((h) => h.finger === written);
  const lowest = Math.min(...anywhere.map((h) => h.position));
  return anywhere.length > 0 ? anywhere.filter((h) => h.position === lowest) : holds;
};

/** All ways in which this pitch can be held anywhere, stretches included: for chords that leave no choice. */
export const everyHoldOf = (at: Pitch, tuning: Tuning): readonly Hold[] =>
  holdsUpTo(placesOfPitch(at, tuning), 7);
