import {
  asWholeNotes,
  compare,
  type Diagnostic,
  equals,
  multiply,
  rational,
  sum,
  type WholeNotes,
} from '../core/index.ts';
import { type Key, midiOf, type Pitch, staffStepOf } from '../music/index.ts';
import {
  type Address,
  barsOf,
  type Note,
  type OrnamentSign,
  type PlacedBar,
  placedEvents,
  type Score,
} from '../score/index.ts';
import { chordOrnaments } from './chordOrnaments.ts';
import { flickAbove, nextBelow } from './flicks.ts';
import { graceProblems, openStringRoll, tooShortForRoll } from './ornamentProblems.ts';
import { danceOfScore, runningUnitOf } from './runningUnit.ts';
import type { StringName } from './strings.ts';

/**
 * What an ornament is called.
 *
 * `cut`: one grace note above (or on) its note, or the sign of a roll where there is no time for more; `strike`: one
 * below; `doubleGrace`, `graceRun`: two, more. `longRoll`: three running notes' time or more, `shortRoll`: less.
 * `treble`: three strokes on one note, a triplet or two semiquavers and a quaver, whose last may move on. `runTriplet`: three notes by step; `turnTriplet`: round a note; `arpeggioTriplet`: any other. `drone`: an
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
  /** What else sounds: grace notes in order, the cut and strike of a roll, or the tone beside the melody; else empty. */
  readonly others: readonly Pitch[];
  /** The sign that stands for it; null for grace notes, groups and tones. */
  readonly sign: OrnamentSign | null;
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

/** What the signs in a bar are read by. */
interface BarContext {
  readonly key: Key;
  readonly running: WholeNotes;
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
  sign: null,
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

/** What the sign of a roll stands for: there must be time for it, else players flick a cut. */
const rollBySign = (note: Note, address: Address, { key, running }: BarContext): FoundOrnament => {
  const [main] = note.pitches;
  const isAtLeast = (times: number): boolean => compare(note.length, multiply(running, rational(times))) >= 0;
  const cut = flickAbove(main, key);
  if (!isAtLeast(2))
    return found('cut', address, note, { sign: 'roll', others: [cut], problems: [tooShortForRoll(main)] });
  const problems = openStringRoll(note);
  return found(isAtLeast(3) ? 'longRoll' : 'shortRoll', address, note, {
    sign: 'roll',
    others: problems.length > 0 ? [cut] : [cut, nextBelow(main, key)],
    problems,
  });
};

const signOrnaments = (note: Note, address: Address, context: BarContext): readonly FoundOrnament[] =>
  note.signs.map((sign) =>
    sign === 'roll' ? rollBySign(note, address, context) : found(sign, address, note, { sign }),
  );

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

const lengthOfThree = (three: readonly [Spot, Spot, Spot]): WholeNotes =>
  asWholeNotes(sum(three.map(({ note }) => note.length)));

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
    length: lengthOfThree(three),
    movesOn: kind === 'treble' && midiAt(three[2]) !== midiAt(three[0]),
  });
};

const single = (spot: Spot | undefined): Pitch | null =>
  spot?.note.graces?.pitches.length === 1 ? spot.note.graces.pitches[0] : null;

/**
 * A roll written out in running notes of one pitch: three, a cut before the second and a strike before the third; or
 * two, a cut before the first and a strike before the second.
 */
const writtenRollAt = (
  spots: readonly Spot[],
  address: Address,
  running: WholeNotes,
): FoundOrnament | null => {
  const [first] = spots;
  const long = first?.note.graces === null;
  const notes = spots.slice(0, long ? 3 : 2);
  const [cut, strike] = long ? [single(notes[1]), single(notes[2])] : [single(notes[0]), single(notes[1])];
  if (first === undefined || cut === null || strike === null) return null;
  const one = midiAt(first);
  const alike = notes.every(
    (s, i) => s.index === first.index + i && midiAt(s) === one && equals(s.note.length, running),
  );
  if (!alike || midiOf(cut) <= one || midiOf(strike) >= one) return null;
  return found(long ? 'longRoll' : 'shortRoll', address, first.note, {
    events: notes.length,
    length: asWholeNotes(sum(notes.map(({ note }) => note.length))),
    others: [cut, strike],
    problems: openStringRoll(first.note),
  });
};

const ornamentsOfBar = ({ bar, part, index }: PlacedBar, running: WholeNotes): readonly FoundOrnament[] => {
  const spots: readonly Spot[] = placedEvents(bar).flatMap(({ event, onset }, i) =>
    event.kind === 'note' ? [{ note: event, onset, index: i }] : [],
  );
  const context: BarContext = { key: bar.key, running };
  const result: FoundOrnament[] = [];
  let insideRoll = 0;
  spots.forEach((spot, at) => {
    const address: Address = { part, bar: index, onset: spot.onset };
    const roll = insideRoll > 0 ? null : writtenRollAt(spots.slice(at, at + 3), address, running);
    if (roll !== null) {
      insideRoll = roll.events;
      result.push(roll);
    } else if (insideRoll === 0) result.push(...graceOrnament(spot.note, address));
    insideRoll = Math.max(0, insideRoll - 1);
    result.push(...signOrnaments(spot.note, address, context));
    const three = threeFrom(spots, at);
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
