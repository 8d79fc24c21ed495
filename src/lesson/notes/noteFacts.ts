import { add, divide, floorOf, isMultipleOf } from '../../core/index.ts';
import {
  type AwkwardPlace,
  awkwardPlacesOf,
  type BowedNote,
  bowingOf,
  type Difficulty,
  difficultyOf,
  type Fingered,
  fingeringOf,
  type OrnamentInHand,
  ornamentsInHand,
  type StayDown,
} from '../../fiddle/index.ts';
import { midiOf, notatedBeatOf, type Pitch, printedName } from '../../music/index.ts';
import {
  type Address,
  addressKey,
  barsOf,
  metricalOffsetOf,
  notesOf,
  type PlacedBar,
  type PlacedNote,
} from '../../score/index.ts';
import { fingerHeight, fingerName, fingerOrdinal } from '../fingerWords.ts';
import { fingeringOptionsOf } from '../handOptions.ts';
import type { Lesson } from '../lesson.ts';
import { type PhraseMap, phraseMapOf } from '../maps/phraseMap.ts';
import { stayDownsShown } from '../stayDowns.ts';
import { barWord, listOfBars, noteValueName, type Words } from '../words.ts';
import type { BarPlace, ClaimedVersion, Stated } from './claims.ts';
import type { OrnamentNames } from './ornamentWords.ts';

/** Everything that the notes on a lesson are made from. */
export interface NoteFacts {
  readonly lesson: Lesson;
  readonly words: Words;
  readonly names: OrnamentNames;
  /** The written bars of the full version, by "A/3". */
  readonly bars: ReadonlyMap<string, PlacedBar>;
  /** Its notes in order, and their places in that order by address. */
  readonly notes: readonly PlacedNote[];
  readonly order: ReadonlyMap<string, number>;
  readonly fingers: ReadonlyMap<string, Fingered>;
  readonly bows: ReadonlyMap<string, BowedNote>;
  readonly ornaments: readonly OrnamentInHand[];
  /** Of the bones: one or two a part. */
  readonly stays: readonly StayDown[];
  readonly awkward: readonly AwkwardPlace[];
  readonly difficulty: Difficulty;
  readonly phrases: PhraseMap;
}

/** "A/3": a written bar as a key. */
export const barKey = ({ part, bar }: BarPlace): string => `${part}/${bar}`;

/** Gathers what the notes on a lesson are made from. */
export const noteFactsOf = (lesson: Lesson): NoteFacts => {
  const { full, plain, bones } = lesson.versions;
  const simplest = lesson.ladder.find(({ kind }) => kind === 'bones') ?? { id: 'bones', score: bones };
  const hand = fingeringOptionsOf(lesson.settings);
  const fingering = fingeringOf(full, hand);
  const bowing = bowingOf(full);
  const notes = notesOf(full);
  return {
    lesson,
    words: lesson.settings.words,
    names: lesson.settings.names,
    bars: new Map(barsOf(full).map((b) => [barKey({ part: b.part, bar: b.index }), b])),
    notes,
    order: new Map(notes.map(({ address }, i) => [addressKey(address), i])),
    fingers: new Map(fingering.map((f) => [addressKey(f.address), f])),
    bows: new Map(bowing.map((b) => [addressKey(b.address), b])),
    ornaments: ornamentsInHand(full, { fingering, bowing }),
    stays: stayDownsShown(lesson, simplest),
    awkward: awkwardPlacesOf(full),
    difficulty: difficultyOf(full, { dance: lesson.dance }),
    phrases: phraseMapOf(plain, full),
  };
};

const placed = (facts: NoteFacts, place: BarPlace): PlacedBar | undefined => facts.bars.get(barKey(place));

/** "bar 3", "the pick-up to part A", "the rest of the bar in part A". */
export const placeName = (facts: NoteFacts, place: BarPlace): string => {
  const bar = placed(facts, place)?.bar;
  if (bar?.number != null) return `${barWord(facts.words)} ${bar.number}`;
  return bar?.role === 'pickup'
    ? `the pick-up to part ${place.part}`
    : `the rest of the ${barWord(facts.words)} in part ${place.part}`;
};

/** The bars of these addresses, each once: "bars 1, 3 and 5", pick-ups after the numbered ones. */
export const barsSaid = (
  facts: NoteFacts,
  at: readonly Address[],
  version: ClaimedVersion = 'full',
): Stated => {
  const places = at.filter((a, i) => at.findIndex((b) => barKey(b) === barKey(a)) === i);
  const numbers = places.flatMap((p) => placed(facts, p)?.bar.number ?? []);
  const others = places.filter((p) => placed(facts, p)?.bar.number == null).map((p) => placeName(facts, p));
  const listed = numbers.length === 0 ? [] : [listOfBars(numbers.map(String), facts.words)];
  const words = [...listed, ...others];
  const text = words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
  return { words: text, claim: { kind: 'bars', version, at } };
};

/** A stretch from one note to another: "bar 3", "bars 3 and 4", "from the pick-up into bar 1". */
export const stretchSaid = (
  facts: NoteFacts,
  stretches: readonly { readonly from: Address; readonly to: Address }[],
  version: ClaimedVersion,
): Stated => {
  const at = stretches.flatMap(({ from, to }) => [from, to]);
  const [only, ...others] = stretches;
  const bar = only === undefined ? undefined : placed(facts, only.from)?.bar;
  if (
    only === undefined ||
    others.length > 0 ||
    bar?.role !== 'pickup' ||
    barKey(only.from) === barKey(only.to)
  )
    return barsSaid(facts, at, version);
  return {
    words: `from the pick-up into ${placeName(facts, only.to)}`,
    claim: { kind: 'bars', version, at },
  };
};

/** Where in its bar a note stands, in notated beats from 1. */
const beatOf = (facts: NoteFacts, address: Address): { readonly beat: number; readonly onBeat: boolean } => {
  const bar = placed(facts, address)?.bar;
  if (bar === undefined) return { beat: 1, onBeat: true };
  const beat = notatedBeatOf(bar.metre);
  const at = add(address.onset, metricalOffsetOf(bar));
  return { beat: floorOf(divide(at, beat)) + 1, onBeat: isMultipleOf(at, beat) };
};

/** "on beat 3", "after beat 2". */
export const beatSaid = (facts: NoteFacts, address: Address): Stated => {
  const { beat, onBeat } = beatOf(facts, address);
  return {
    words: `${onBeat ? 'on' : 'after'} beat ${beat}`,
    claim: { kind: 'beat', version: 'full', at: [address], beat, onBeat },
  };
};

/** A pitch by its name. */
export const pitchSaid = (
  pitch: Pitch,
  at: readonly Address[],
  version: ClaimedVersion = 'full',
): Stated => ({
  words: printedName(pitch),
  claim: { kind: 'pitch', version, at, pitch },
});

/** A grace note of ornaments that are alike: written, or what a sign stands for. */
export const graceSaid = (alike: readonly OrnamentInHand[], grace: number): Stated => {
  const [one] = alike;
  const at = alike.map((o) => o.notes[0].address);
  const pitch = one?.ornament.others[grace];
  if (one === undefined || pitch === undefined)
    return { words: '', claim: { kind: 'bars', version: 'full', at: [] } };
  const { sign } = one.ornament;
  if (sign === null)
    return pitchSaid(
      pitch,
      at.map((a) => ({ ...a, grace })),
    );
  const role = midiOf(pitch) > midiOf(one.ornament.pitch) ? 'cut' : 'strike';
  return { words: printedName(pitch), claim: { kind: 'flick', version: 'full', at, role, pitch } };
};

/** The finger that stops the note: "low second finger", "open string"; nothing where no hand reaches. */
export const fingerSaid = (facts: NoteFacts, at: readonly Address[], short = false): Stated | '' => {
  const held = at[0] === undefined ? undefined : facts.fingers.get(addressKey(at[0]));
  if (held === undefined) return '';
  const height = fingerHeight(held);
  const brief = `${height === '' ? '' : `${height} `}${fingerOrdinal(held.finger)}`;
  return {
    words: short ? brief : fingerName(held),
    claim: { kind: 'finger', version: 'full', at, finger: held.finger, height },
  };
};

/** "the D string". */
export const stringSaid = (facts: NoteFacts, at: readonly Address[]): Stated | '' => {
  const held = at[0] === undefined ? undefined : facts.fingers.get(addressKey(at[0]));
  if (held === undefined) return '';
  return {
    words: `${held.string} string`,
    claim: { kind: 'string', version: 'full', at, string: held.string },
  };
};

/** The stroke that begins on, or goes on over, the note: "down-bow". */
export const bowSaid = (facts: NoteFacts, at: readonly Address[]): Stated | '' => {
  const bowed = at[0] === undefined ? undefined : facts.bows.get(addressKey(at[0]));
  if (bowed === undefined) return '';
  return { words: `${bowed.bow}-bow`, claim: { kind: 'bow', version: 'full', at, bow: bowed.bow } };
};

/** "dotted crotchet": what these notes last together. */
export const lengthSaid = (
  facts: NoteFacts,
  length: Parameters<typeof noteValueName>[0],
  at: readonly Address[],
): Stated => ({
  words: noteValueName(length, facts.words),
  claim: {
    kind: 'length',
    version: 'full',
    at,
    length: length as Extract<Stated['claim'], { kind: 'length' }>['length'],
  },
});

/** The note at an address of the full version, and the one before it. */
export const noteAt = (facts: NoteFacts, address: Address): PlacedNote | undefined => {
  const { part, bar, onset } = address;
  return facts.notes[facts.order.get(addressKey({ part, bar, onset })) ?? -1];
};

/** The note before another in written order, also over a bar line. */
export const noteBefore = (facts: NoteFacts, address: Address): PlacedNote | undefined => {
  const { part, bar, onset } = address;
  return facts.notes[(facts.order.get(addressKey({ part, bar, onset })) ?? 0) - 1];
};
