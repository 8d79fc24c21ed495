import { compare, multiply, type Rational, rational } from '../core/index.ts';
import { printedName } from '../music/index.ts';
import type { Address, Score } from '../score/index.ts';
import { type Fingered, type FingeringOptions, fingeringOf } from './fingering.ts';
import { FINGER_NAMES, type HeldNote, heldStretchesOf, placeOfString } from './heldNotes.ts';
import { danceOfScore, runningUnitOf } from './runningUnit.ts';
import type { StringName } from './strings.ts';

/**
 * What makes a place awkward for the left hand or the crossing arm.
 *
 * `splitFifth`: one finger on two neighbouring strings, a diminished or augmented fifth apart. `thereAndBack`: the bow
 * crosses to another string and back among running notes, several times, or over a string between. `twoSeconds`: a low
 * and a high second finger close together. `stretchedThird`, `stretchedFourth`: beyond the finger's place. `shift`: a
 * double stop that no grip of first position holds. `outOfReach`: a double stop with a tone that no finger is left for.
 */
export type AwkwardKind =
  | 'splitFifth'
  | 'thereAndBack'
  | 'twoSeconds'
  | 'stretchedThird'
  | 'stretchedFourth'
  | 'shift'
  | 'outOfReach';

/** An awkward place and what to do about it. */
export interface AwkwardPlace {
  readonly kind: AwkwardKind;
  /** Its first note and its last; the same for one note. */
  readonly from: Address;
  readonly to: Address;
  /** In the order in which they are played, each once. */
  readonly strings: readonly StringName[];
  /** What it is, in one sentence with its notes. */
  readonly what: string;
  /** What to do, in one sentence. */
  readonly advice: string;
}

/** Semitones above the open string. Common practice: low second, high second, stretched third, stretched fourth. */
const LOW_SECOND = 3;
const HIGH_SECOND = 4;
const THIRD_STRETCHED = 6;
const FOURTH_STRETCHED = 8;
/** Notes between a low and a high second finger that are still close together. Ours. */
const CLOSE = 1;
/** So many crossings in a row at running speed are worth a word; a string skipped is at once. Ours. */
const MANY_CROSSINGS = 4;
/** A finger has time to move over a note longer than so many running notes. Ours. */
const TIME_TO_MOVE = 2;

const nameOf = ({ note, hold }: HeldNote): string =>
  printedName(note.pitches[hold.address.tone ?? 0] ?? note.pitches[0]);

const inOrder = (holds: readonly Fingered[]): readonly StringName[] => [
  ...new Set(holds.map((h) => h.string)),
];

const isAtMost = (length: Rational, running: Rational, notes: number): boolean =>
  compare(length, multiply(running, rational(notes))) <= 0;

const between = (
  kind: AwkwardKind,
  notes: readonly [HeldNote, ...HeldNote[]],
  words: { readonly what: string; readonly advice: string },
): AwkwardPlace => ({
  kind,
  from: notes[0].address,
  to: (notes.at(-1) ?? notes[0]).address,
  strings: inOrder(notes.map((n) => n.hold)),
  ...words,
});

/** One finger, two strings, two places a semitone apart. */
const splitFifth = (a: HeldNote, b: HeldNote, running: Rational): readonly AwkwardPlace[] => {
  const { finger } = a.hold;
  const split =
    finger !== 0 &&
    finger === b.hold.finger &&
    a.hold.position === b.hold.position &&
    Math.abs(placeOfString(a.hold.string) - placeOfString(b.hold.string)) === 1 &&
    Math.abs(a.hold.semitones - b.hold.semitones) === 1;
  if (!split || !isAtMost(a.note.length, running, TIME_TO_MOVE)) return [];
  const [lower, upper] = placeOfString(a.hold.string) < placeOfString(b.hold.string) ? [a, b] : [b, a];
  const fifth = upper.hold.semitones < lower.hold.semitones ? 'a diminished fifth' : 'an augmented fifth';
  const way = b.hold.semitones < a.hold.semitones ? 'back towards the nut' : 'further up';
  return [
    between('splitFifth', [a, b], {
      what: `${nameOf(a)} on the ${a.hold.string} string and ${nameOf(b)} on the ${b.hold.string} string are ${fifth} for the ${FINGER_NAMES[finger]} finger.`,
      advice: `Lift it and set it anew a semitone ${way}; don't lay it across.`,
    }),
  ];
};

/** A low and a high second finger within a note of each other, not already named as a split fifth. */
const twoSeconds = (notes: readonly HeldNote[], at: number, running: Rational): readonly AwkwardPlace[] => {
  const here = notes[at];
  if (here === undefined || here.hold.finger !== 2 || here.hold.position !== 1) return [];
  const next = notes.slice(at + 1, at + 2 + CLOSE).findIndex(({ hold }) => hold.finger === 2);
  const other = next < 0 ? undefined : notes[at + 1 + next];
  if (other === undefined || other.hold.position !== 1) return [];
  const places = [here.hold.semitones, other.hold.semitones].toSorted((x, y) => x - y);
  if (places[0] !== LOW_SECOND || places[1] !== HIGH_SECOND) return [];
  const stretch = notes.slice(at, at + 2 + next);
  if (splitFifth(here, other, running).length > 0 && next === 0) return [];
  if (!stretch.slice(0, -1).every(({ note }) => isAtMost(note.length, running, TIME_TO_MOVE))) return [];
  const [low, high] = here.hold.semitones === LOW_SECOND ? [here, other] : [other, here];
  return [
    between('twoSeconds', [here, ...stretch.slice(1)], {
      what: `${nameOf(low)} is a low second finger and ${nameOf(high)} a high one, close together.`,
      advice: `Move the second finger alone; the hand stays where it is.`,
    }),
  ];
};

const stretched = (held: HeldNote): readonly AwkwardPlace[] => {
  const { finger, semitones, string, position } = held.hold;
  if (position !== 1) return [];
  if (finger === 3 && semitones === THIRD_STRETCHED)
    return [
      between('stretchedThird', [held], {
        what: `${nameOf(held)} on the ${string} string is a stretched third finger.`,
        advice: 'Reach up with the third finger and let the first one stay.',
      }),
    ];
  if (finger === 4 && semitones === FOURTH_STRETCHED)
    return [
      between('stretchedFourth', [held], {
        what: `${nameOf(held)} on the ${string} string is a stretched fourth finger.`,
        advice: 'Stretch the fourth finger alone and bring it back at once.',
      }),
    ];
  return [];
};

const doubleStop = (held: HeldNote): readonly AwkwardPlace[] => {
  const { note, sounding } = held;
  if (note.pitches.length < 2 || held.tied) return [];
  const names = note.pitches.map(printedName).join(' and ');
  if (sounding.length < note.pitches.length)
    return [
      between('outOfReach', [held], {
        what: `${names} can't be held together.`,
        advice: 'Play the tune note alone, or put another note beside it.',
      }),
    ];
  const position = Math.max(...sounding.map((h) => h.position));
  if (position === 1) return [];
  return [
    between('shift', [held], {
      what: `${names} together lie in no grip of first position.`,
      advice: 'Move the hand up for them, or play the tune note alone.',
    }),
  ];
};

/** How many crossings there and back follow each other from `at` on, every note but the last a running one. */
const crossingsFrom = (notes: readonly HeldNote[], at: number, running: Rational): number => {
  let count = 0;
  for (let i = at; i + 1 < notes.length; i += 1) {
    const [a, b, before] = [notes[i], notes[i + 1], notes[i - 1]];
    if (a === undefined || b === undefined || a.hold.string === b.hold.string) break;
    if (!isAtMost(a.note.length, running, 1)) break;
    if (count > 0 && before?.hold.string !== b.hold.string) break;
    count += 1;
  }
  return count;
};

const crossings = (notes: readonly HeldNote[], running: Rational): readonly AwkwardPlace[] => {
  const found: AwkwardPlace[] = [];
  for (let at = 0; at < notes.length; ) {
    const count = crossingsFrom(notes, at, running);
    const [first, ...others] = notes.slice(at, at + count + 1);
    const apart = Math.abs(
      placeOfString(first?.hold.string ?? 'G') - placeOfString(others[0]?.hold.string ?? 'G'),
    );
    if (first !== undefined && (count >= MANY_CROSSINGS || (count > 1 && apart > 1))) {
      const [from, to] = [first.hold.string, others[0]?.hold.string ?? first.hold.string];
      found.push(
        between('thereAndBack', [first, ...others], {
          what: `The bow goes from the ${from} string to the ${to} string and back ${count > 3 ? 'again and again' : ''}`
            .trimEnd()
            .concat('.'),
          advice:
            apart > 1
              ? 'Keep the bow near the string between and cross with the whole arm.'
              : 'Keep the bow close to both strings and rock it with the wrist; leave fingers down that come back.',
        }),
      );
    }
    at += Math.max(1, count);
  }
  return found;
};

/**
 * Which places are awkward for the hands, and what does one do there?
 *
 * Only what is really in the way at the tune's own pace: one finger for two places, second fingers low and high, fingers
 * beyond their place, crossings there and back at speed, double stops that first position doesn't hold.
 * @param fingering - of the same score and tuning; worked out when absent
 * @returns in written order of their first notes
 * @see Common practice; how close, how many and how fast is ours
 */
export const awkwardPlacesOf = (
  score: Score,
  options: FingeringOptions = {},
  fingering: readonly Fingered[] = fingeringOf(score, options),
): readonly AwkwardPlace[] => {
  const running = runningUnitOf(danceOfScore(score), score.metre);
  return heldStretchesOf(score, fingering).flatMap((notes) => {
    const places = notes.flatMap((held, i) => {
      const next = notes[i + 1];
      return [
        ...doubleStop(held),
        ...(held.tied ? [] : stretched(held)),
        ...(next === undefined ? [] : splitFifth(held, next, running)),
        ...twoSeconds(notes, i, running),
      ];
    });
    return [...places, ...crossings(notes, running)];
  });
};
