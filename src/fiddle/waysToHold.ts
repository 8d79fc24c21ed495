import type { Pitch } from '../music/index.ts';
import type { Fingered, FingeringOptions } from './fingering.ts';
import { holdsOf } from './holds.ts';
import { STANDARD_TUNING, STRING_NAMES } from './tuning.ts';

/** A finger on a string that gives one pitch. */
export type PitchInHand = Pick<Fingered, 'string' | 'finger' | 'position' | 'semitones'>;

/** Every way to play one pitch, the easiest by itself first; none below the lowest string or beyond reach. */
export const waysToHold = (
  pitch: Pitch,
  { tuning = STANDARD_TUNING, highestPosition = 1 }: FingeringOptions = {},
): readonly PitchInHand[] =>
  holdsOf(pitch, tuning, highestPosition, null)
    .toSorted((a, b) => a.cost - b.cost)
    .flatMap(({ place, finger, position, semitones }): PitchInHand[] => {
      const string = STRING_NAMES[place];
      return string === undefined ? [] : [{ string, finger, position, semitones }];
    });
