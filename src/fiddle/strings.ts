import type { MidiNumber } from '../core/index.ts';
import { midiOf, type Pitch, pitch } from '../music/index.ts';

/** A string by its name, lowest first. */
export type StringName = 'G' | 'D' | 'A' | 'E';

/** A string of the fiddle. */
export interface FiddleString {
  readonly name: StringName;
  /** Place from the lowest, 0…3: strings whose places differ by one are neighbours. */
  readonly place: number;
  /** What it sounds open. */
  readonly open: Pitch;
  readonly midi: MidiNumber;
}

const stringAt = (name: StringName, place: number, open: Pitch): FiddleString => ({
  name,
  place,
  open,
  midi: midiOf(open),
});

/**
 * The four strings, lowest first: G3, D4, A4, E5.
 * @see Source: open strings 195.998, 293.665, 440, 659.255 Hz in the MIDI Tuning Standard's scale
 */
export const STRINGS: readonly [FiddleString, FiddleString, FiddleString, FiddleString] = [
  stringAt('G', 0, pitch('G3')),
  stringAt('D', 1, pitch('D4')),
  stringAt('A', 2, pitch('A4')),
  stringAt('E', 3, pitch('E5')),
];

/** Semitones that the fourth finger reaches above the open string in first position; one more when stretched. Common practice. */
export const FOURTH_FINGER_REACH = 7;

/** The string that sounds this pitch open, or null. */
export const openStringOf = (at: Pitch): FiddleString | null =>
  STRINGS.find((s) => s.midi === midiOf(at)) ?? null;
