import type { Pitch } from '../music/index.ts';
import type { Finger } from '../score/index.ts';
import { holdsOf } from './holds.ts';
import type { StringName } from './strings.ts';
import { STANDARD_TUNING, STRING_NAMES } from './tuning.ts';

/** A place of first position: which finger, on which string, how far up it. */
export interface FingerPlace {
  readonly string: StringName;
  readonly finger: Finger;
  /** Above the open string. */
  readonly semitones: number;
}

/**
 * Where does this pitch lie in first position, and under which finger?
 * @returns one place a string, the most usual finger of each, highest string first; empty out of its reach
 */
export const firstPositionOf = (at: Pitch): readonly FingerPlace[] => {
  const places = new Map<StringName, FingerPlace & { readonly cost: number }>();
  for (const { place, finger, semitones, position, cost } of holdsOf(at, STANDARD_TUNING, 1, null)) {
    const string = STRING_NAMES[place];
    if (string === undefined || position > 1) continue;
    if (cost < (places.get(string)?.cost ?? Number.POSITIVE_INFINITY))
      places.set(string, { string, finger, semitones, cost });
  }
  return [...places.values()].map(({ string, finger, semitones }) => ({ string, finger, semitones }));
};
