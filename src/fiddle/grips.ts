import { staffStepOf } from '../music/index.ts';
import type { Note } from '../score/index.ts';
import { everyHoldOf, type Hold, holdsOf, type Position } from './holds.ts';
import type { Tuning } from './tuning.ts';

/** What the left hand does for one note: a hold for its melody pitch, and one for each tone beside it that it can reach. */
export interface Grip {
  readonly melody: Hold;
  /** By index of the pitch, from 1; null for a tone that no finger is left for. */
  readonly beside: readonly (Hold | null)[];
  readonly cost: number;
}

/** Semitones that neighbouring fingers lie apart at most, over two strings. Ours. */
const FINGER_SPREAD = 2;
/** What each stopped tone beside the melody costs. Ours. */
const BESIDE = 0.3;
/** What an ornament costs that the grip can't play as it should: a cut over the fourth finger, a strike under an open string. Ours. */
const UNPLAYABLE_ORNAMENT = 1;

/** Whether two fingers can lie on two strings at once: each its own, in order and within reach, or one laid across. */
const goTogether = (a: Hold, b: Hold): boolean => {
  if (a.place === b.place) return false;
  if (a.finger === 0 || b.finger === 0) return true;
  if (a.position !== b.position) return false;
  if (a.finger === b.finger) return a.semitones === b.semitones && Math.abs(a.place - b.place) === 1;
  const [low, high] = a.finger < b.finger ? [a, b] : [b, a];
  const apart = high.semitones - low.semitones;
  return apart >= 0 && apart <= FINGER_SPREAD * (high.finger - low.finger) + 1;
};

/** Whether the strings lie side by side, so that one bow reaches them one after another. */
const sideBySide = (holds: readonly Hold[]): boolean => {
  const places = holds.map((h) => h.place).sort((a, b) => a - b);
  return places.every((place, i) => i === 0 || place - (places[i - 1] ?? place) === 1);
};

/** All ways to hold the pitches together, one hold each. */
const together = (ways: readonly (readonly Hold[])[]): readonly (readonly Hold[])[] =>
  ways
    .reduce<readonly (readonly Hold[])[]>(
      (found, next) =>
        found.flatMap((held) =>
          next.filter((h) => held.every((k) => goTogether(k, h))).map((h) => [...held, h]),
        ),
      [[]],
    )
    .filter((held) => held.length === ways.length && sideBySide(held));

/** Where the hand lies when it holds these: the position of its fingers, the first where all strings are open. */
const positionOf = (held: readonly Hold[]): number =>
  Math.max(1, ...held.filter((h) => h.finger !== 0).map((h) => h.position));

/** The pitches together in the usual ways; where these leave none, in the lowest position that has one. */
const chordHolds = (
  note: Note,
  usual: readonly (readonly Hold[])[],
  tuning: Tuning,
): readonly (readonly Hold[])[] => {
  const found = together(usual);
  if (found.length > 0) return found;
  const anywhere = together(note.pitches.map((at) => everyHoldOf(at, tuning)));
  const lowest = Math.min(...anywhere.map(positionOf));
  return anywhere.filter((held) => positionOf(held) === lowest);
};

const ornamentCost = (note: Note, hold: Hold): number => {
  const roll = note.signs.includes('roll');
  const graces = note.graces?.pitches ?? [];
  const cut = roll || graces.length > 0;
  if (hold.finger === 4 && cut) return UNPLAYABLE_ORNAMENT;
  return hold.finger === 0 && roll ? UNPLAYABLE_ORNAMENT : 0;
};

/** In which ways can the left hand play a note with everything that sounds beside it? Empty where it can't be reached. */
export type GripsFor = (note: Note) => readonly Grip[];

/** Whether nothing but its pitch says how a note is held: no written finger, no tone beside it, no ornament. */
const isBare = (note: Note): boolean =>
  note.pitches.length === 1 && note.fingers.length === 0 && note.graces === null && note.signs.length === 0;

/** The grips of every note in a tuning, no higher than a position; bare notes of one pitch share theirs. */
export const gripFinder = (tuning: Tuning, highest: Position): GripsFor => {
  const known = new Map<number, readonly Grip[]>();
  return (note) => {
    if (!isBare(note)) return gripsOf(note, tuning, highest);
    const [melody] = note.pitches;
    const key = SIGNED * staffStepOf(melody) + melody.alter;
    const found = known.get(key) ?? gripsOf(note, tuning, highest);
    known.set(key, found);
    return found;
  };
};

/** Room for every accidental on a staff step. */
const SIGNED = 8;

const gripsOf = (note: Note, tuning: Tuning, highest: Position): readonly Grip[] => {
  const ways = note.pitches.map((at, i) => holdsOf(at, tuning, highest, note.fingers[i] ?? null));
  const [melodyWays = []] = ways;
  const chords = note.pitches.length > 1 ? chordHolds(note, ways, tuning) : [];
  if (chords.length === 0) {
    const beside = note.pitches.slice(1).map(() => null);
    return melodyWays.map((melody) => ({ melody, beside, cost: melody.cost + ornamentCost(note, melody) }));
  }
  return chords.flatMap(([melody, ...beside]) => {
    if (melody === undefined) return [];
    const extra = beside.reduce((sum, h) => sum + h.cost + (h.finger === 0 ? 0 : BESIDE), 0);
    return [{ melody, beside, cost: melody.cost + extra + ornamentCost(note, melody) }];
  });
};
