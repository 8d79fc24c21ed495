import { type Address, addressKey, barsOf, type Finger, fingerprintOf, type Score } from '../score/index.ts';
import type { Fingered } from './fingering.ts';
import { type HeldNote, heldStretchesOf, placeOfString } from './heldNotes.ts';

/** A finger worth printing over its note. */
export interface FingerMark {
  readonly address: Address;
  readonly finger: Finger;
  /** Which second finger it is; null for other fingers, and where the tune has one kind only. */
  readonly second: 'low' | 'high' | null;
}

/** Semitones above the open string: the places of the second finger, and of the fourth that has the next string's pitch. */
const LOW_SECOND = 3;
const HIGH_SECOND = 4;
const UNISON_WITH_NEXT = 7;
const HIGHEST_STRING = 3;
/** A crossing over a string, after which the finger is worth a mark. */
const SKIPS = 2;

const secondOf = ({ finger, position, semitones }: Fingered): 'low' | 'high' | null => {
  if (finger !== 2 || position !== 1) return null;
  if (semitones === LOW_SECOND) return 'low';
  return semitones === HIGH_SECOND ? 'high' : null;
};

/** What was last said of second fingers and of fourth or open, in a part. */
interface Said {
  second: 'low' | 'high' | null;
  /** Places of the open strings whose pitch was taken with the fourth finger last. */
  readonly fourths: Set<number>;
}

/** The place of the string that sounds this pitch open: for the fourth finger on the one below and for itself; else null. */
const openChoice = (hold: Fingered): number | null => {
  const place = placeOfString(hold.string);
  if (hold.finger === 0) return place;
  const isUnison = hold.finger === 4 && hold.position === 1 && hold.semitones === UNISON_WITH_NEXT;
  return isUnison && place < HIGHEST_STRING ? place + 1 : null;
};

const crossesFar = (from: Fingered | undefined, to: Fingered): boolean =>
  from !== undefined &&
  to.finger !== 0 &&
  Math.abs(placeOfString(from.string) - placeOfString(to.string)) >= SKIPS;

/** One finger, another string, another place: it must be set anew. */
const isSetAnew = (from: Fingered | undefined, to: Fingered): boolean =>
  from !== undefined &&
  to.finger !== 0 &&
  from.finger === to.finger &&
  from.string !== to.string &&
  from.semitones !== to.semitones;

/** Whether this finger is one that a player would not guess, or would get wrong. */
const isWorthAMark = (hold: Fingered, before: Fingered | undefined, said: Said): boolean => {
  const second = secondOf(hold);
  const changed = second !== null && second !== said.second;
  if (second !== null) said.second = second;
  const choice = openChoice(hold);
  const asFourth = choice !== null && hold.finger === 4;
  const backToOpen = choice !== null && !asFourth && said.fourths.delete(choice);
  if (asFourth) said.fourths.add(choice);
  const shifts = before !== undefined && hold.finger !== 0 && before.position !== hold.position;
  return changed || asFourth || backToOpen || shifts || crossesFar(before, hold) || isSetAnew(before, hold);
};

/** Whether the hand needs low and high second fingers in this tune. */
const hasBothSeconds = (fingering: readonly Fingered[]): boolean =>
  new Set(fingering.map(secondOf).filter((second) => second !== null)).size === 2;

const markOf = ({ address, finger }: Fingered, second: 'low' | 'high' | null): FingerMark => ({
  address,
  finger,
  second,
});

/** Marks of a bar that was there before in its part are printed once. */
const onceForEqualBars = (score: Score, marks: readonly FingerMark[]): readonly FingerMark[] => {
  const bars = new Map(barsOf(score).map((b) => [`${b.part}/${b.index}`, fingerprintOf(b.bar)]));
  const seen = new Map<string, number>();
  return marks.filter(({ address, finger }) => {
    const { part, bar, onset } = address;
    const key = `${part} ${bars.get(`${part}/${bar}`) ?? ''} ${onset.num}/${onset.den} ${finger}`;
    const first = seen.get(key) ?? bar;
    seen.set(key, first);
    return first === bar;
  });
};

/**
 * Which fingers are worth printing?
 *
 * A second finger where it changes between low and high (in a tune that has both), the fourth finger in place of an open
 * string and the open string after it, and fingers after a crossing over a string, a finger set anew on another string,
 * or a shift. Bars that come again in their part bear theirs once.
 * @returns melody notes only, in written order
 * @see Source: common practice; which crossings is ours
 */
export const fingerMarksOf = (score: Score, fingering: readonly Fingered[]): readonly FingerMark[] => {
  const both = hasBothSeconds(fingering);
  const marks: FingerMark[] = [];
  let said: Said = { second: null, fourths: new Set() };
  let part = '';
  for (const stretch of heldStretchesOf(score, fingering)) {
    let before: HeldNote | undefined;
    for (const held of stretch) {
      if (held.address.part !== part) said = { second: null, fourths: new Set() };
      part = held.address.part;
      if (!both) said.second = secondOf(held.hold) ?? said.second;
      if (!held.tied && isWorthAMark(held.hold, before?.hold, said))
        marks.push(markOf(held.hold, both ? secondOf(held.hold) : null));
      before = held;
    }
  }
  return onceForEqualBars(score, marks);
};

/** Every finger as a mark, also of tones beside the melody; grace notes bear none. */
export const everyFinger = (fingering: readonly Fingered[]): readonly FingerMark[] => {
  const both = hasBothSeconds(fingering);
  return fingering
    .filter((hold) => hold.address.grace === undefined)
    .map((hold) => markOf(hold, both && hold.address.tone === undefined ? secondOf(hold) : null));
};

/** The key of a mark's note: `addressKey`. */
export const noteKeyOf = ({ part, bar, onset }: Address): string => addressKey({ part, bar, onset });
