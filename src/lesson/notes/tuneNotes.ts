import { countWord, wholeNotes } from '../../core/index.ts';
import { type BowedNote, bowedBarsOf } from '../../fiddle/index.ts';
import { formatPitch, midiOf } from '../../music/index.ts';
import { type Address, addressKey, notesOf, type PlacedNote, type Score } from '../../score/index.ts';
import { fingerMapOf } from '../maps/fingerMap.ts';
import { fingerMapSayings } from '../maps/fingerMapWords.ts';
import type { PhraseMap } from '../maps/phraseMap.ts';
import { phraseMapSummary } from '../maps/phraseMapWords.ts';
import { barWord, joined } from '../words.ts';
import { joinedPieces, type Piece, type Saying, type Stated, said, saying } from './claims.ts';
import { barsSaid, fingerSaid, type NoteFacts, noteAt, pitchSaid, stringSaid } from './noteFacts.ts';

/** A remark on its way: what it is about, and how much a learner is helped by it, 0…10. */
export interface Ranked {
  /** Names the remark within its group: by it a teacher's own words find it again. */
  readonly subject: string;
  readonly saying: Saying;
  /** Ours: by a teacher's judgement; what is heard or tripped over first stands first. */
  readonly worth: number;
}

const fingers = ({ lesson, words }: NoteFacts): readonly Ranked[] =>
  fingerMapSayings(fingerMapOf(lesson.versions.full), words).map((one, i) => ({
    subject: i === 0 ? 'fingers' : `fingers ${i + 1}`,
    saying: one,
    worth: i === 0 ? 9 : 6 - i / 2,
  }));

/** How many bars are different, and with which to begin. */
const phrases = (facts: NoteFacts): readonly Ranked[] => {
  const { phrases: map, words } = facts;
  const [first] = map.steps;
  if (map.bars.length < 2 || first === undefined) return [];
  const placeOf = (i: number): Address => {
    const { part = '', bar = 0 } = map.bars[i] ?? {};
    return { part, bar, onset: wholeNotes(0) };
  };
  const count: Piece = {
    words: phraseMapSummary(map, words),
    claim: {
      kind: 'different',
      version: 'plain',
      at: map.bars.map((_, i) => placeOf(i)),
      different: map.different,
    },
  };
  const [fresh, again] = [first.fresh.map(placeOf), first.again.map(placeOf)];
  const same = first.again.map((i): Piece => {
    const as = first.fresh.find((f) => map.bars[f]?.step === map.bars[i]?.step && isSameBar(map, f, i));
    const other = placeOf(as ?? first.fresh[0] ?? 0);
    return {
      words: '',
      claim: { kind: 'likeness', version: 'plain', at: [placeOf(i)], likeness: 'same', as: other, steps: 0 },
    };
  });
  const known =
    again.length === 0
      ? []
      : said` Begin with ${barsSaid(facts, fresh)}; you then have ${barsSaid(facts, again)} too.${same}`;
  return [{ subject: 'bars', saying: saying(said`${count}${known}`), worth: 8 }];
};

/** Whether a bar of the map is the same as an earlier one. */
const isSameBar = (map: PhraseMap, earlier: number, later: number): boolean => {
  const { likeness } = map.bars[later] ?? {};
  return likeness?.kind === 'same' && likeness.as === earlier;
};

const stroke = (bow: 'down' | 'up', at: readonly Address[]): Stated => ({
  words: `${bow}-bow`,
  claim: { kind: 'bow', version: 'full', at, bow },
});

/** A pick-up: its notes, its strokes, and the first note of the bar that it leads into. */
interface Pickup {
  readonly part: string;
  readonly notes: readonly PlacedNote[];
  readonly strokes: readonly BowedNote[];
  readonly lands: Address | null;
}

/** Longer pick-ups are runs of their own. Ours. */
const LONGEST_PICKUP = 3;

const pickupsIn = (facts: NoteFacts): readonly Pickup[] =>
  facts.lesson.versions.full.parts.flatMap((part): readonly Pickup[] => {
    if (part.bars[0]?.role !== 'pickup') return [];
    const notes = facts.notes.filter(({ address }) => address.part === part.label && address.bar === 0);
    if (notes.length === 0 || notes.length > LONGEST_PICKUP) return [];
    const bows = notes.flatMap(({ address }) => facts.bows.get(addressKey(address)) ?? []);
    const after = firstOfBar(facts, part.label, 1);
    const lands = after?.bow === 'down' ? after.at : null;
    return [{ part: part.label, notes, strokes: bows.filter((b) => b.begins), lands }];
  });

/** "in one up-bow", "up, down": how a pick-up is bowed. */
const strokesSaid = (alike: readonly Pickup[]): readonly Piece[] => {
  const [first] = alike;
  const at = (i: number): readonly Address[] => alike.flatMap((p) => p.strokes[i]?.address ?? []);
  const bows = first?.strokes.map((s) => s.bow) ?? [];
  const [only] = bows;
  if (bows.length === 1 && only !== undefined)
    return first?.notes.length === 1
      ? said`on an ${stroke(only, at(0))}`
      : said`in one ${stroke(only, at(0))}`;
  return joinedPieces(
    bows.map((bow, i) => [{ words: bow, claim: { kind: 'bow', version: 'full', at: at(i), bow } }]),
    ', ',
  );
};

const namesOf = ({ notes }: Pickup): string =>
  notes.map(({ note }) => formatPitch(note.pitches[0])).join(' ');

/** Pick-ups of the same notes together. */
const bySameNotes = (pickups: readonly Pickup[]): readonly (readonly Pickup[])[] =>
  [...new Set(pickups.map(namesOf))].map((names) => pickups.filter((p) => namesOf(p) === names));

const notesSaid = (same: readonly Pickup[]): readonly Piece[] =>
  joinedPieces(
    (same[0]?.notes ?? []).map(({ note }, i) => [
      pitchSaid(
        note.pitches[0],
        same.flatMap((p) => p.notes[i]?.address ?? []),
      ),
    ]),
  );

const partsSaid = (same: readonly Pickup[]): string =>
  `${same.length > 1 ? 'parts' : 'part'} ${joined(same.map((p) => p.part))}`;

/** How the pick-ups are bowed; those that are bowed alike in one breath. */
const pickups = (facts: NoteFacts): readonly Ranked[] => {
  const groups = new Map<string, Pickup[]>();
  for (const pickup of pickupsIn(facts)) {
    const key = `${pickup.strokes.map((s) => s.bow).join()} ${pickup.notes.length} ${pickup.lands === null}`;
    groups.set(key, [...(groups.get(key) ?? []), pickup]);
  }
  return [...groups.values()].map((alike, i): Ranked => {
    const lead = joinedPieces(
      bySameNotes(alike).map((same) => said`${notesSaid(same)} into ${partsSaid(same)}`),
      ', ',
    );
    const each = alike.length > 1 ? 'each ' : '';
    const lands = alike.flatMap((p) => p.lands ?? []);
    const then =
      lands.length < alike.length
        ? []
        : said`, so that ${barsSaid(facts, lands)} ${lands.length > 1 ? 'start' : 'starts'} on a ${stroke('down', lands)}`;
    const word = alike.length > 1 ? 'Pick-ups' : 'Pick-up';
    return {
      subject: `pick-up ${i + 1}`,
      saying: saying(said`${word}: ${lead}; ${each}${strokesSaid(alike)}${then}.`),
      worth: i === 0 ? 6.1 : 5,
    };
  });
};

/** The stroke that begins on a bar's first note; null where none does. */
const firstOfBar = (
  facts: NoteFacts,
  part: string,
  bar: number,
): { readonly at: Address; readonly bow: 'down' | 'up' } | null => {
  const first = facts.notes.find(({ address }) => address.part === part && address.bar === bar);
  const bowed = first === undefined ? undefined : facts.bows.get(addressKey(first.address));
  if (first === undefined || bowed === undefined || !bowed.begins || first.address.onset.num !== 0)
    return null;
  return { at: first.address, bow: bowed.bow };
};

/** More bars than this that start up-bow are no list any more. Ours. */
const MOST_UP = 6;

/** Which bars start on an up-bow as the tune is bowed. */
const bowing = (facts: NoteFacts): readonly Ranked[] => {
  const bars = bowedBarsOf(facts.lesson.versions.full, [...facts.bows.values()]).filter(
    (b) => b.number !== null,
  );
  const up = bars.filter((b) => b.opens === 'up');
  const at = up.flatMap((b) => firstOfBar(facts, b.part, b.bar)?.at ?? []);
  const bar = barWord(facts.words);
  if (up.length === 0) {
    if (bars.length < 2 || bars.some((b) => b.opens !== 'down')) return [];
    const at = bars.flatMap((b) => firstOfBar(facts, b.part, b.bar)?.at ?? []);
    const words = `Every ${bar} starts on a down-bow`;
    const all: Piece = {
      words,
      claim: { kind: 'opens', version: 'full', at, bow: 'down', count: bars.length },
    };
    return [{ subject: 'bow', saying: saying(said`${all} as it is written.`), worth: 5 }];
  }
  if (up.length > MOST_UP) {
    const words = `${countWord(up.length)} of the ${countWord(bars.length)} ${bar}s start on an up-bow`;
    const counted: Piece = {
      words,
      claim: { kind: 'opens', version: 'full', at, bow: 'up', count: up.length },
    };
    const text = said`As it is bowed, ${counted}: the bow need not come out down on every first beat.`;
    return [{ subject: 'bow', saying: saying(text), worth: 4 }];
  }
  const words = `${barsSaid(facts, at).words} ${up.length > 1 ? 'start' : 'starts'} on an up-bow`;
  const listed: Piece = { words, claim: { kind: 'opens', version: 'full', at, bow: 'up', count: up.length } };
  const others = bars.every((b) => b.opens === 'up' || b.opens === 'down');
  const rest = others ? `; every other ${bar} comes out down.` : '.';
  return [{ subject: 'bow', saying: saying(said`${listed}${rest}`), worth: others ? 6.5 : 5.5 }];
};

/** From which long : short an even-written pair is said to swing. Ours. */
const SWINGS = 1.25;

const swing = ({ lesson, words }: NoteFacts): readonly Ranked[] => {
  const amount = lesson.settings.swing ?? lesson.dance.swing;
  if (amount < SWINGS) return [];
  const quavers = words === 'us' ? 'eighth notes' : 'quavers';
  const times: Piece = {
    words: `about ${Math.round(amount * 10) / 10} times`,
    claim: { kind: 'swing', version: 'full', at: [], amount: Math.round(amount * 10) / 10 },
  };
  const text = said`The ${quavers} swing: in each pair the first is ${times} as long as the second, less the faster you go.`;
  return [{ subject: 'swing', saying: saying(text), worth: 7.5 }];
};

/** The highest note, where it is reached once or seldom: how the hand gets there. */
const highest = (facts: NoteFacts): readonly Ranked[] => {
  const heights = facts.notes.map(({ note }) => midiOf(note.pitches[0]));
  const top = Math.max(...heights);
  const at = facts.notes.filter((_, i) => heights[i] === top).map(({ address }) => address);
  const [first] = at;
  const note = first === undefined ? undefined : noteAt(facts, first);
  if (note === undefined || new Set(at.map((a) => `${a.part}/${a.bar}`)).size > 4) return [];
  const hold = facts.fingers.get(addressKey(at[0] ?? note.address));
  const sameHand =
    hold !== undefined &&
    at.every((a) => {
      const [one, other] = [facts.fingers.get(addressKey(a)), facts.fingers.get(addressKey(at[0] ?? a))];
      return one?.finger === other?.finger && one?.string === other?.string;
    });
  const hand = sameHand ? said`, ${fingerSaid(facts, at)} on the ${stringSaid(facts, at)}` : [];
  return [
    {
      subject: 'highest note',
      saying: saying(
        said`The top of the tune is ${pitchSaid(note.note.pitches[0], at)} in ${barsSaid(facts, at)}${hand}.`,
      ),
      worth: 4.5,
    },
  ];
};

/** How many of a bar's notes the bones keep. */
interface Kept {
  readonly at: Address;
  readonly bones: number;
  readonly plain: number;
}

const keptByBar = ({ lesson, bars }: NoteFacts): readonly Kept[] => {
  const inBar = (score: Score, part: string, bar: number): readonly PlacedNote[] =>
    notesOf(score).filter(({ address }) => address.part === part && address.bar === bar);
  return [...bars.values()].flatMap(({ bar, part, index }): readonly Kept[] => {
    const played = inBar(lesson.versions.plain, part, index);
    const [first] = played;
    if (first === undefined || bar.number === null) return [];
    const bones = inBar(lesson.versions.bones, part, index).length;
    return [{ at: first.address, bones, plain: played.length }];
  });
};

/** More bars than this are no list any more. Ours. */
const MOST_LISTED = 5;

/** Where the bones leave out most, and where nothing. */
const bonesKeep = (facts: NoteFacts): readonly Ranked[] => {
  const kept = keptByBar(facts);
  const least = Math.min(...kept.map((k) => k.bones / k.plain));
  const barest = kept.filter((k) => k.bones / k.plain === least);
  const [first] = barest;
  const alike = barest.every((k) => k.plain === first?.plain);
  if (first === undefined || least === 1 || barest.length > MOST_LISTED || !alike) return [];
  const at = barest.map((k) => k.at);
  const count = (version: 'bones' | 'plain'): Piece => ({
    words: String(first[version]),
    claim: { kind: 'count', version, at, count: first[version], of: 'notes' },
  });
  const whole = kept.filter((k) => k.bones === k.plain).map((k) => k.at);
  const { words } = barsSaid(facts, whole, 'bones');
  const stays: readonly Piece[] =
    whole.length === 0 || whole.length > MOST_LISTED
      ? []
      : said`; ${[{ words, claim: { kind: 'keepsAll', version: 'bones', at: whole } }]} ${whole.length > 1 ? 'stay as they are' : 'stays as it is'}`;
  return [
    {
      subject: 'bones',
      saying: saying(
        said`The bones leave out most in ${barsSaid(facts, at, 'bones')}, where ${count('bones')} of ${count('plain')} notes stay${stays}.`,
      ),
      worth: 6.3,
    },
  ];
};

/** What is said of the whole tune. */
export const tuneNotes = (facts: NoteFacts): readonly Ranked[] => [
  ...fingers(facts),
  ...phrases(facts),
  ...swing(facts),
  ...bowing(facts),
  ...pickups(facts),
  ...highest(facts),
  ...bonesKeep(facts),
];
