import type { OrnamentSign } from '../score/index.ts';
import type { Fingered } from './fingering.ts';
import { type HeldNote, placeOfString } from './heldNotes.ts';

/** A finger that stays where it is, on one string or laid over two. */
export interface LyingFinger {
  readonly finger: 1 | 2 | 3;
  readonly position: number;
  /** Above the open string. */
  readonly semitones: number;
  /** Places of the strings under it from the lowest string, lower first. */
  readonly places: readonly number[];
}

/** Notes that may stand between two that need the finger ("within a few notes"). Ours. */
const MOST_BETWEEN = 3;

/** Signs whose strike or slide lifts or moves the finger of their own note. */
const LIFTING: readonly OrnamentSign[] = ['roll', 'turn', 'lowerMordent', 'slide'];

/** Whether this is the finger itself in its place. */
export const isUnder = (hold: Fingered, lying: LyingFinger): boolean =>
  hold.finger === lying.finger &&
  hold.position === lying.position &&
  hold.semitones === lying.semitones &&
  lying.places.includes(placeOfString(hold.string));

/** Whether the finger must leave its place for this hold: an open string or a lower place under it, itself elsewhere, a shift. */
const drivesOff = (hold: Fingered, lying: LyingFinger): boolean => {
  if (isUnder(hold, lying)) return false;
  if (hold.finger === lying.finger) return true;
  if (hold.finger !== 0 && hold.position !== lying.position) return true;
  return lying.places.includes(placeOfString(hold.string)) && hold.semitones <= lying.semitones;
};

/** Whether an ornament on the finger's own note lifts it. */
const lifts = ({ note, hold, graces }: HeldNote, lying: LyingFinger): boolean =>
  isUnder(hold, lying) &&
  (note.signs.some((sign) => LIFTING.includes(sign)) ||
    graces.some((grace) => grace.string === hold.string && grace.semitones < hold.semitones));

const endsIt = (held: HeldNote, lying: LyingFinger): boolean =>
  lifts(held, lying) || [...held.graces, ...held.sounding].some((hold) => drivesOff(hold, lying));

/**
 * For which notes from `start` on is a finger needed that is put down there and stays?
 * @returns indices of struck notes in order, until the finger must leave or is needed no more within a few notes
 */
export const usesFrom = (
  notes: readonly HeldNote[],
  start: number,
  lying: LyingFinger,
): readonly number[] => {
  const uses: number[] = [];
  for (const [i, held] of notes.slice(start).entries()) {
    const at = start + i;
    if (endsIt(held, lying) || at - (uses.at(-1) ?? start) > MOST_BETWEEN + 1) break;
    if (!held.tied && held.sounding.some((hold) => isUnder(hold, lying))) uses.push(at);
  }
  return uses;
};
