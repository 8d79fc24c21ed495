import {
  type Address,
  addressKey,
  barsOf,
  type Finger,
  type Note,
  placedEvents,
  type Score,
} from '../score/index.ts';
import type { Fingered } from './fingering.ts';
import type { StringName } from './strings.ts';
import { STRING_NAMES } from './tuning.ts';

/** A note with what the left hand does for it. */
export interface HeldNote {
  readonly note: Note;
  readonly address: Address;
  /** Where the melody is stopped. */
  readonly hold: Fingered;
  /** What sounds: the melody and the tones beside it. */
  readonly sounding: readonly Fingered[];
  /** Grace notes before it. */
  readonly graces: readonly Fingered[];
  /** Whether it goes on sounding from the note before. */
  readonly tied: boolean;
}

/** "first", "second" …, as a player says it. */
export const FINGER_NAMES: Readonly<Record<Exclude<Finger, 0>, string>> = {
  1: 'first',
  2: 'second',
  3: 'third',
  4: 'fourth',
};

/** The string's place from the lowest, 0…3: neighbours differ by one. */
export const placeOfString = (name: StringName): number => STRING_NAMES.indexOf(name);

const byNote = (fingering: readonly Fingered[]): ReadonlyMap<string, readonly Fingered[]> => {
  const notes = new Map<string, Fingered[]>();
  for (const fingered of fingering) {
    const { part, bar, onset } = fingered.address;
    const key = addressKey({ part, bar, onset });
    const own = notes.get(key);
    if (own === undefined) notes.set(key, [fingered]);
    else own.push(fingered);
  }
  return notes;
};

/**
 * The notes as one hand comes to them: stretches in which each note follows the one before without a rest.
 *
 * A stretch ends where a rest stands, where a part, a repeat or an ending begins, behind a repeat, and at a pitch that
 * lies on no string: whatever follows there, the hand has time or comes from elsewhere.
 * @returns in written order, none empty
 */
export const heldStretchesOf = (
  score: Score,
  fingering: readonly Fingered[],
): readonly (readonly HeldNote[])[] => {
  const fingers = byNote(fingering);
  const stretches: HeldNote[][] = [];
  let open: HeldNote[] | null = null;
  let tied = false;
  for (const { bar, part, index } of barsOf(score)) {
    if (index === 0 || bar.repeatStart > 0 || bar.ending !== null) open = null;
    for (const { event, onset } of placedEvents(bar)) {
      const address: Address = { part, bar: index, onset };
      const own = event.kind === 'note' ? (fingers.get(addressKey(address)) ?? []) : [];
      const sounding = own.filter((f) => f.address.grace === undefined);
      const hold = sounding.find((f) => f.address.tone === undefined);
      if (event.kind === 'rest' || hold === undefined) {
        open = null;
        tied = false;
        continue;
      }
      if (open === null) {
        open = [];
        stretches.push(open);
      }
      const graces = own.filter((f) => f.address.grace !== undefined);
      open.push({ note: event, address, hold, sounding, graces, tied });
      tied = event.tiedToNext;
    }
    if (bar.repeatEnd > 0) open = null;
  }
  return stretches;
};
