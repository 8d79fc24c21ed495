import {
  asWholeNotes,
  compare,
  divide,
  equals,
  multiply,
  type Rational,
  rational,
  type WholeNotes,
} from '../../core/index.ts';
import type { Alter, Key, Pitch } from '../../music/index.ts';
import type { Event, Note, TupletPlace } from '../../score/index.ts';
import { type Accidentals, sameStaffPlace } from './accidentals.ts';
import { writtenBow, writtenFinger, writtenMark, writtenOther, writtenSign } from './decorations.ts';

/** What is in force where a note is written. Mutable: one a tune written. */
export interface Hand {
  readonly accidentals: Accidentals;
  key: Key;
  readonly unit: WholeNotes;
  /** The note before, for ties. */
  lastNote: Note | null;
}

/** How an accidental is written. */
export const ACCIDENTAL_SIGNS: Readonly<Record<Alter, string>> = {
  [-2]: '__',
  [-1]: '_',
  0: '=',
  1: '^',
  2: '^^',
};
const MIDDLE_OCTAVE = 4;

/** A pitch's letter with its octave marks, without an accidental. */
export const letterOf = (pitch: Pitch): string => {
  if (pitch.octave > MIDDLE_OCTAVE)
    return pitch.step.toLowerCase() + "'".repeat(pitch.octave - MIDDLE_OCTAVE - 1);
  return pitch.step + ','.repeat(MIDDLE_OCTAVE - pitch.octave);
};

/** A pitch with an accidental only where key, bar and tie would have it read otherwise. */
const writePitch = (hand: Hand, pitch: Pitch): string => {
  const tied =
    hand.lastNote?.tiedToNext === true
      ? hand.lastNote.pitches.find((p) => sameStaffPlace(p, pitch))
      : undefined;
  const unsigned = tied?.alter ?? hand.accidentals.of(pitch.step, pitch.octave, hand.key);
  if (unsigned === pitch.alter) return letterOf(pitch);
  hand.accidentals.set(pitch.step, pitch.octave, pitch.alter);
  return ACCIDENTAL_SIGNS[pitch.alter] + letterOf(pitch);
};

/** A length in unit notes: "" for one, "2", "3/2", "/2". */
export const writeLength = (length: Rational, unit: Rational): string => {
  const { num, den } = divide(length, unit);
  if (den === 1) return num === 1 ? '' : `${num}`;
  return num === 1 ? `/${den}` : `${num}/${den}`;
};

/** The length that is written: in a tuplet longer than the played one. */
const writtenLength = (event: Event): WholeNotes =>
  event.tuplet === null
    ? event.length
    : asWholeNotes(multiply(event.length, rational(event.tuplet.actual, event.tuplet.normal)));

/** Notes in whose time a tuplet is played where ABC need not say it. Source: ABC standard 2.1, section 4.13. */
const USUAL_NORMAL: Readonly<Record<number, number>> = { 2: 3, 3: 2, 4: 3, 6: 2, 8: 3 };

/** How a tuplet of `count` events is opened: "(3", "(3:2:2". */
export const writeTuplet = (tuplet: TupletPlace, count: number): string => {
  const usual = USUAL_NORMAL[tuplet.actual] === tuplet.normal;
  if (count !== tuplet.actual) return `(${tuplet.actual}:${usual ? '' : tuplet.normal}:${count}`;
  return usual ? `(${tuplet.actual}` : `(${tuplet.actual}:${tuplet.normal}`;
};

/** A sign of broken rhythm between two events, and the length that both are written with. */
interface Broken {
  readonly sign: string;
  readonly base: Rational;
}

const MOST_DOTS = 2;

/** A dotted pair is written `A>B` where it is beamed and its even length is no more than the unit note: else numbers read better. */
export const brokenPair = (first: Event, second: Event | undefined, unit: Rational): Broken | null => {
  if (second === undefined || !first.beamedToNext || first.tuplet !== null || second.tuplet !== null)
    return null;
  if (first.kind !== 'note' || second.kind !== 'note') return null;
  const base = divide(
    {
      num: first.length.num * second.length.den + second.length.num * first.length.den,
      den: first.length.den * second.length.den,
    },
    rational(2),
  );
  if (compare(base, unit) > 0) return null;
  for (let dots = 1; dots <= MOST_DOTS; dots += 1) {
    const parts = 2 ** dots;
    const short = multiply(base, rational(1, parts));
    if (equals(second.length, short)) return { sign: '>'.repeat(dots), base };
    if (equals(first.length, short)) return { sign: '<'.repeat(dots), base };
  }
  return null;
};

const decorations = (note: Note): string =>
  [
    ...note.otherDecorations.map(writtenOther),
    ...note.signs.map(writtenSign),
    ...note.marks.map(writtenMark),
    ...(note.bow === null ? [] : [writtenBow(note.bow)]),
    ...note.fingers.map(writtenFinger),
  ].join('');

const graces = (hand: Hand, note: Note): string =>
  note.graces === null
    ? ''
    : `{${note.graces.slashed ? '/' : ''}${note.graces.pitches.map((p) => writePitch(hand, p)).join('')}}`;

/**
 * One event as it stands in a bar.
 * @param over - chord symbols and annotations that stand before it, as written
 * @param length - the length it is written with, where broken rhythm changes it
 * @see Source: ABC standard 2.1, section 4.20 "Order of abc constructs"
 */
export const writeEvent = (hand: Hand, event: Event, over: string, length?: Rational): string => {
  const written = writeLength(length ?? writtenLength(event), hand.unit);
  if (event.kind === 'rest') {
    return `${over}${event.marks.map(writtenMark).join('')}${event.visible ? 'z' : 'x'}${written}`;
  }
  const before = '('.repeat(event.slurs.opens) + graces(hand, event) + over + decorations(event);
  const tones = event.pitches.map((p) => writePitch(hand, p));
  const sound = tones.length === 1 ? tones.join('') : `[${tones.join('')}]`;
  hand.lastNote = event;
  return `${before}${sound}${written}${event.tiedToNext ? '-' : ''}${')'.repeat(event.slurs.closes)}`;
};
