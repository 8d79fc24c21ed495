import type { MidiNumber } from '../core/index.ts';
import { midiOf, OPEN_STRINGS, type Pitch } from '../music/index.ts';

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

/** The four strings, lowest first: G3, D4, A4, E5. */
export const STRINGS: readonly [FiddleString, FiddleString, FiddleString, FiddleString] = [
  stringAt('G', 0, OPEN_STRINGS[0]),
  stringAt('D', 1, OPEN_STRINGS[1]),
  stringAt('A', 2, OPEN_STRINGS[2]),
  stringAt('E', 3, OPEN_STRINGS[3]),
];

/** The string that sounds this pitch open, or null. */
export const openStringOf = (at: Pitch): FiddleString | null =>
  STRINGS.find((s) => s.midi === midiOf(at)) ?? null;
