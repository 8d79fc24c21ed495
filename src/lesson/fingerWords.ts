import type { Position } from '../fiddle/index.ts';
import type { Finger } from '../score/index.ts';

/** What the words for a finger depend on. */
export interface FingerSpot {
  readonly finger: Finger;
  /** Above the open string. */
  readonly semitones: number;
  /** First position when absent. */
  readonly position?: Position;
}

const ORDINALS: Readonly<Record<Finger, string>> = {
  0: 'open',
  1: 'first',
  2: 'second',
  3: 'third',
  4: 'fourth',
};

/** How high a finger lies in first position, by semitones above the open string; its home place has no word. Common practice. */
const HEIGHTS: Readonly<Record<Finger, Readonly<Record<number, string>>>> = {
  0: {},
  1: { 1: 'low' },
  2: { 3: 'low', 4: 'high' },
  3: { 4: 'low', 6: 'high' },
  4: { 6: 'low', 8: 'stretched' },
};

const POSITIONS: Readonly<Record<Position, string>> = {
  1: 'first',
  2: 'second',
  3: 'third',
  4: 'fourth',
  5: 'fifth',
  6: 'sixth',
  7: 'seventh',
};

/** "low", "high", "stretched"; empty where the finger lies at home or above first position. */
export const fingerHeight = ({ finger, semitones, position = 1 }: FingerSpot): string =>
  position > 1 ? '' : (HEIGHTS[finger][semitones] ?? '');

/** "first", "second" …: a finger's number in words, "open" for none. */
export const fingerOrdinal = (finger: Finger): string => ORDINALS[finger];

/**
 * A finger as a teacher says it.
 * @returns "open string", "high second finger", "third finger in third position"
 */
export const fingerName = (spot: FingerSpot): string => {
  if (spot.finger === 0) return 'open string';
  const height = fingerHeight(spot);
  const name = `${height === '' ? '' : `${height} `}${ORDINALS[spot.finger]} finger`;
  const position = spot.position ?? 1;
  return position > 1 ? `${name} in ${POSITIONS[position]} position` : name;
};
