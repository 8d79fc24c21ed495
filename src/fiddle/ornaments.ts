import {
  add,
  compare,
  type Diagnostic,
  equals,
  multiply,
  type Rational,
  rational,
  type WholeNotes,
} from '../core/index.ts';
import { midiOf, type Pitch, staffStepOf } from '../music/index.ts';
import { type Address, barsOf, type Note, type PlacedBar, placedEvents, type Score } from '../score/index.ts';
import { chordOrnaments } from './chordOrnaments.ts';
import { graceProblems, rollProblems } from './ornamentProblems.ts';
import { danceOfScore, runningUnitOf } from './runningUnit.ts';
import type { StringName } from './strings.ts';

/**
 * What an ornament is called.
 *
 * `cut`: one grace note above (or on) its note; `strike`: one below; `doubleGrace`, `graceRun`: two, more.
 * `longRoll`: three running notes' time or more, `shortRoll`: less. `treble`: three strokes on one note, the last may
 * move on. `runTriplet`: three notes by step; `turnTriplet`: round a note; `arpeggioTriplet`: any other. `drone`: an
 * open string along with a note; `laidFinger`: one finger over two strings, a fifth; `unison`: one pitch on two
 * strings; `doubleStop`: two fingered notes. The rest are the signs of the same names.
 */
export type OrnamentKind =
  | 'cut'
  | 'strike'
  | 'doubleGrace'
  | 'graceRun'
  | 'longRoll'
  | 'shortRoll'
  | 'treble'
  | 'runTriplet'
  | 'turnTriplet'
  | 'arpeggioTriplet'
  | 'slide'
  | 'trill'
  | 'turn'
  | 'upperMordent'
  | 'lowerMordent'
  | 'drone'
  | 'laidFinger'
  | 'unison'
  | 'doubleStop';

/** An ornament as written, with its name. */
export interface FoundOrnament {
  readonly kind: OrnamentKind;
  /** Where its first event stands; with `tone` for a tone that sounds along. */
  readonly address: Address;
  /** How many events of the bar it covers, its own included. */
  readonly events: number;
  /** Score time of these events together. */
  readonly length: WholeNotes;
  /** The note that it is on; for triplets the first. */
  readonly pitch: Pitch;
  /** What else sounds: grace notes in order, or the tone beside the melody; empty for signs and triplets. */
  readonly others: readonly Pitch[];
  /** The open string of a drone. */
  readonly string: StringName | null;
  /** Whether a treble's last note leaves the pitch of the first two. */
  readonly movesOn: boolean;
  /** What speaks against playing it as written, in words; empty for nearly all. */
  readonly problems: readonly Diagnostic[];
}

/** A note in its bar. */
interface Spot {
  readonly note: Note;
  readonly onset: WholeNotes;
  /** Index among the bar's events. */
  readonly index: number;
}

const found = (
  kind: OrnamentKind,
  address: Address,
  note: Note,
  more: Partial<FoundOrnament> = {},
): FoundOrnament => ({
  kind,
  address,
  events: 1,
  length: note.length,
  pitch: note.pitches[0],
  others: [],
  string: null,
  movesOn: false,
  problems: [],
  ...more,
});

const graceOrnament = (note: Note, address: Address): readonly FoundOrnament[] => {
  if (note.graces === null) return [];
  const others = note.graces.pitches;
  const main = note.pitches[0];
  const below = midiOf(others[0]) < midiOf(main);
  const kind =
    others.length > 2 ? 'graceRun' : others.length === 2 ? 'doubleGrace' : below ? 'strike' : 'cut';
  return [found(kind, address, note, { others, problems: graceProblems(note) })];
};

const signOrnaments = (note: Note, address: Address, running: WholeNotes): readonly FoundOrnament[] =>
  note.signs.map((sign) => {
    if (sign !== 'roll') return found(sign, address, note);
    const long = compare(note.length, multiply(running, rational(3))) >= 0;
    return found(long ? 'longRoll' : 'shortRoll', address, note, { problems: rollProblems(note, running) });
  });

/** The three notes from `from` on, when all are notes on one after another. */
const threeFrom = (spots: readonly Spot[], from: number): readonly [Spot, Spot, Spot] | null => {
  const [a, b, c] = spots.slice(from, from + 3);
  if (a === undefined || b === undefined || c === undefined) return null;
  return b.index === a.index + 1 && c.index === a.index + 2 ? [a, b, c] : null;
};

const midiAt = (spot: Spot): number => midiOf(spot.note.pitches[0]);

const isTriplet = (three: readonly [Spot, Spot, Spot], running: WholeNotes): boolean =>
  three.every(
    ({ note }, i) => note.tuplet?.actual === 3 && note.tuplet.count === 3 && note.tuplet.index === i,
  ) && compare(lengthOfThree(three), multiply(running, rational(2))) <= 0;

const lengthOfThree = (three: readonly [Spot, Spot, Spot]): Rational =>
  three.reduce<Rational>((total, { note }) => add(total, note.length), rational(0));

/** Two notes of half a running note and one running note, the first two alike: a treble written out. */
const isShortShortLong = (three: readonly [Spot, Spot, Spot], running: WholeNotes): boolean => {
  const half = multiply(running, rational(1, 2));
  const [a, b, c] = three;
  return (
    three.every(({ note }) => note.tuplet === null && !note.tiedToNext) &&
    equals(a.note.length, half) &&
    equals(b.note.length, half) &&
    equals(c.note.length, running) &&
    midiAt(a) === midiAt(b)
  );
};

const tripletKind = (three: readonly [Spot, Spot, Spot]): OrnamentKind => {
  const [a, b, c] = three.map(({ note }) => staffStepOf(note.pitches[0])) as [number, number, number];
  if (midiAt(three[0]) === midiAt(three[1])) return 'treble';
  if ((b - a === 1 && c - b === 1) || (b - a === -1 && c - b === -1)) return 'runTriplet';
  const turns = (b - a) * (c - b) < 0;
  return turns && Math.max(a, b, c) - Math.min(a, b, c) <= 2 ? 'turnTriplet' : 'arpeggioTriplet';
};

const tripletAt = (
  three: readonly [Spot, Spot, Spot],
  address: Address,
  running: WholeNotes,
): FoundOrnament | null => {
  const triplet = isTriplet(three, running);
  if (!triplet && !isShortShortLong(three, running)) return null;
  const kind = triplet ? tripletKind(three) : 'treble';
  return found(kind, address, three[0].note, {
    events: 3,
    length: lengthOfThree(three) as WholeNotes,
    movesOn: kind === 'treble' && midiAt(three[2]) !== midiAt(three[0]),
  });
};

/** Three running notes of one pitch, a cut before the second and a strike before the third: a long roll written out. */
const writtenRollAt = (
  three: readonly [Spot, Spot, Spot],
  address: Address,
  running: WholeNotes,
): FoundOrnament | null => {
  const [a, b, c] = three;
  const cut = b.note.graces?.pitches;
  const strike = c.note.graces?.pitches;
  if (cut?.length !== 1 || strike?.length !== 1 || a.note.graces !== null) return null;
  const one = midiAt(a);
  const alike = three.every((s) => midiAt(s) === one && equals(s.note.length, running));
  if (!alike || midiOf(cut[0]) <= one || midiOf(strike[0]) >= one) return null;
  return found('longRoll', address, a.note, {
    events: 3,
    length: lengthOfThree(three) as WholeNotes,
    others: [cut[0], strike[0]],
    problems: rollProblems(a.note, null),
  });
};

const ornamentsOfBar = ({ bar, part, index }: PlacedBar, running: WholeNotes): readonly FoundOrnament[] => {
  const spots: readonly Spot[] = placedEvents(bar).flatMap(({ event, onset }, i) =>
    event.kind === 'note' ? [{ note: event, onset, index: i }] : [],
  );
  const result: FoundOrnament[] = [];
  let insideRoll = 0;
  spots.forEach((spot, at) => {
    const address: Address = { part, bar: index, onset: spot.onset };
    const three = threeFrom(spots, at);
    const roll = three === null ? null : writtenRollAt(three, address, running);
    if (roll !== null) insideRoll = 3;
    if (roll !== null) result.push(roll);
    else if (insideRoll === 0) result.push(...graceOrnament(spot.note, address));
    insideRoll = Math.max(0, insideRoll - 1);
    result.push(...signOrnaments(spot.note, address, running));
    const triplet = three === null ? null : tripletAt(three, address, running);
    if (triplet !== null) result.push(triplet);
    for (const { tone, ...chord } of chordOrnaments(spot.note))
      result.push(found(chord.kind, { ...address, tone }, spot.note, chord));
  });
  return result;
};

/**
 * Which ornaments are written in this tune, and what is each called?
 *
 * Names only what stands on the page: grace notes, signs, triplets and short-short-long groups, tones beside the
 * melody. What can't be played as written is still named, with its problem in words.
 * @returns in written order; of several on one note graces first, then signs, triplets, tones
 * @see Source of the names: common practice; what counts as run, turn, treble, arpeggio follows the counts in O'Neill
 * 1903 (3,104 printed triplets: runs 55 %, turns 21 %, trebles 10 %, arpeggios 6 %)
 */
export const ornamentsOf = (score: Score): readonly FoundOrnament[] => {
  const running = runningUnitOf(danceOfScore(score), score.metre);
  return barsOf(score).flatMap((placed) => ornamentsOfBar(placed, running));
};
