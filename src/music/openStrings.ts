import { type Pitch, pitch } from './pitch.ts';

/**
 * The fiddle's open strings, lowest first: G3 D4 A4 E5.
 * @see Source: open strings 195.998, 293.665, 440, 659.255 Hz in the MIDI Tuning Standard's scale
 */
export const OPEN_STRINGS: readonly [Pitch, Pitch, Pitch, Pitch] = [
  pitch('G3'),
  pitch('D4'),
  pitch('A4'),
  pitch('E5'),
];
