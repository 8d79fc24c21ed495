import { midiOf, type Pitch, pitch, staffStepOf } from '../music/index.ts';
import { STRINGS, type StringName } from './strings.ts';

/** What the four strings sound open, lowest first; a string keeps its name however it is tuned. */
export type Tuning = readonly [Pitch, Pitch, Pitch, Pitch];

/** G D A E. */
export const STANDARD_TUNING: Tuning = [STRINGS[0].open, STRINGS[1].open, STRINGS[2].open, STRINGS[3].open];

/** Tunings that can be asked for, by their notes from the lowest string. Common practice. */
export const TUNING_NAMES = ['GDAE', 'AEAE', 'ADAE', 'GDGD'] as const;
/** A tuning's name: its notes from the lowest string. */
export type TuningName = (typeof TUNING_NAMES)[number];

/**
 * What the strings sound in a tuning.
 * @example TUNINGS.AEAE // the two low strings a tone up
 */
export const TUNINGS: Readonly<Record<TuningName, Tuning>> = {
  GDAE: STANDARD_TUNING,
  AEAE: [pitch('A3'), pitch('E4'), pitch('A4'), pitch('E5')],
  ADAE: [pitch('A3'), pitch('D4'), pitch('A4'), pitch('E5')],
  GDGD: [pitch('G3'), pitch('D4'), pitch('G4'), pitch('D5')],
};

/** The names of the strings, lowest first. */
export const STRING_NAMES: readonly StringName[] = STRINGS.map((s) => s.name);

/** A place on the fingerboard: which string, how far up it, in staff steps and semitones. */
export interface StringPlace {
  /** 0 for the lowest string. */
  readonly place: number;
  /** Letters above the open string's: what the finger is called by. */
  readonly steps: number;
  readonly semitones: number;
}

/** On which strings, and where, does this pitch lie? Highest string first; empty below the lowest string. */
export const placesOfPitch = (at: Pitch, tuning: Tuning): readonly StringPlace[] =>
  tuning
    .map((open, place) => ({
      place,
      steps: staffStepOf(at) - staffStepOf(open),
      semitones: midiOf(at) - midiOf(open),
    }))
    .filter(({ semitones }) => semitones >= 0)
    .reverse();
