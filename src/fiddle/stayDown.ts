import { compare } from '../core/index.ts';
import { FIFTH, midiOf, printedName } from '../music/index.ts';
import type { Address, Score } from '../score/index.ts';
import { type Fingered, type FingeringOptions, fingeringOf } from './fingering.ts';
import { FINGER_NAMES, type HeldNote, heldStretchesOf, placeOfString } from './heldNotes.ts';
import { isUnder, type LyingFinger, usesFrom } from './lyingFinger.ts';
import type { StringName } from './strings.ts';
import { STANDARD_TUNING, STRING_NAMES, type Tuning } from './tuning.ts';

/** A finger that had better stay where it is. */
export interface StayDown {
  /** `across`: laid over two strings a fifth apart. `onString`: it stays while higher fingers play above it. */
  readonly kind: 'across' | 'onString';
  /** The note with which it goes down. */
  readonly from: Address;
  /** The last note that needs it. */
  readonly to: Address;
  readonly finger: 1 | 2 | 3;
  /** The strings under it, lower first; two where it is laid across. */
  readonly strings: readonly StringName[];
  /** How many struck notes need it. */
  readonly uses: number;
  /** What is played meanwhile, as text: equal figures are equal wherever they stand. */
  readonly figure: string;
  /** How often the same figure comes in the tune, this one included. */
  readonly times: number;
  /** What it saves the hand: about one for each time that the finger need not be set anew. For ranking. */
  readonly worth: number;
  /** What to do and why, in one sentence. */
  readonly reason: string;
}

/** What one saved setting is worth by how many other notes stood between. Ours. */
const WORTH = { across: [1, 0.7, 0.5, 0.4], onString: [0, 0.5, 0.5, 0.4] } as const;
/** Laying the third finger over two strings helps less than laying the first. Ours. */
const EASE = { 1: 1, 2: 0.8, 3: 0.6 } as const;
/** What a figure gains each further time that it comes in the tune. Ours. */
const COMES_AGAIN = 0.25;

/** A finger that was found to stay, in its stretch. */
interface Found {
  readonly notes: readonly HeldNote[];
  readonly uses: readonly [number, ...number[]];
  readonly lying: LyingFinger;
}

const under = (held: HeldNote | undefined, lying: LyingFinger): readonly Fingered[] =>
  (held?.sounding ?? []).filter((hold) => isUnder(hold, lying));

const stringsAt = (notes: readonly HeldNote[], at: number, lying: LyingFinger): readonly StringName[] =>
  under(notes[at], lying).map((hold) => hold.string);

/** Whether a higher finger plays on one of the strings between two notes that need the lying one. */
const playsAbove = (notes: readonly HeldNote[], from: number, to: number, lying: LyingFinger): boolean =>
  notes
    .slice(from + 1, to)
    .some(({ hold }) => hold.finger > lying.finger && lying.places.includes(placeOfString(hold.string)));

/** What staying saves between two notes that need the finger. */
const savedBetween = (notes: readonly HeldNote[], from: number, to: number, lying: LyingFinger): number => {
  const between = to - from - 1;
  const before = stringsAt(notes, from, lying);
  if (stringsAt(notes, to, lying).some((string) => !before.includes(string)))
    return (WORTH.across[between] ?? 0) * EASE[lying.finger];
  return playsAbove(notes, from, to, lying) ? (WORTH.onString[between] ?? 0) : 0;
};

const worthOf = ({ notes, uses, lying }: Found): number =>
  uses.slice(1).reduce((sum, to, i) => sum + savedBetween(notes, uses[i] ?? 0, to, lying), 0);

/** What is played while the finger lies, as text: equal figures are equal wherever they stand. */
const figureOf = ({ notes, uses, lying }: Found): string =>
  `${lying.finger} on ${lying.places.join()}: ${notes
    .slice(uses[0], (uses.at(-1) ?? 0) + 1)
    .map(({ note }) => `${midiOf(note.pitches[0])}:${note.length.num}/${note.length.den}`)
    .join(' ')}`;

const namesUnder = ({ notes, uses, lying }: Found): readonly string[] => {
  const names = uses.flatMap((at) =>
    under(notes[at], lying).map(({ address }) => {
      const { note } = notes[at] as HeldNote;
      return printedName(note.pitches[address.tone ?? 0] ?? note.pitches[0]);
    }),
  );
  return [...new Set(names)];
};

const reasonOf = (found: Found): string => {
  const { finger, places } = found.lying;
  const [low = 'G', high] = places.map((place) => STRING_NAMES[place] ?? 'G');
  const names = namesUnder(found);
  if (high !== undefined)
    return `Lay the ${FINGER_NAMES[finger]} finger across the ${low} and ${high} strings: it stops both ${names.join(' and ')}.`;
  return `Leave the ${FINGER_NAMES[finger]} finger down on the ${low} string: ${names[0] ?? ''} comes back.`;
};

const stayDownOf = (found: Found, times: number): StayDown => {
  const { notes, uses, lying } = found;
  const first = notes[uses[0]] as HeldNote;
  const last = notes[uses.at(-1) ?? uses[0]] as HeldNote;
  return {
    kind: lying.places.length === 2 ? 'across' : 'onString',
    from: first.address,
    to: last.address,
    finger: lying.finger,
    strings: lying.places.flatMap((place) => STRING_NAMES[place] ?? []),
    uses: uses.length,
    figure: figureOf(found),
    times,
    worth: worthOf(found) * (1 + COMES_AGAIN * (times - 1)),
    reason: reasonOf(found),
  };
};

/** Whether a finger laid over two strings stops a perfect fifth there. */
const isFifthAbove = (tuning: Tuning, low: number): boolean => {
  const [lower, upper] = [tuning[low], tuning[low + 1]];
  return lower !== undefined && upper !== undefined && midiOf(upper) - midiOf(lower) === FIFTH;
};

/** The ways in which the finger of this hold could stay: laid over the string above or below too, or on its own. */
const waysToLie = (hold: Fingered, tuning: Tuning): readonly LyingFinger[] => {
  const { finger, position, semitones } = hold;
  if (finger === 0 || finger === 4) return [];
  const place = placeOfString(hold.string);
  const pairs = [place - 1, place].filter((low) => isFifthAbove(tuning, low));
  return [...pairs.map((low) => [low, low + 1]), [place]].map((places) => ({
    finger,
    position,
    semitones,
    places,
  }));
};

/** Whether it is worth saying: both strings are played, or a higher finger plays before the note comes back. */
const isOne = (found: Found): boolean => {
  const { notes, uses, lying } = found;
  if (worthOf(found) <= 0) return false;
  const strings = new Set(uses.flatMap((at) => stringsAt(notes, at, lying)));
  return strings.size === lying.places.length;
};

/** Laid across no sooner than need be: from the last note of one string before the first of the other. */
const fromFirstChange = ({ notes, uses, lying }: Found): Found => {
  if (lying.places.length < 2) return { notes, uses, lying };
  const changed = uses.findIndex((at) =>
    stringsAt(notes, at, lying).some((string) => !stringsAt(notes, uses[0], lying).includes(string)),
  );
  const [first = uses[0], ...more] = uses.slice(Math.max(0, changed - 1));
  return { notes, uses: [first, ...more], lying };
};

/** Whether something that was found before holds this finger down already, on the same strings at least. */
const isHeld = (found: readonly Found[], { uses, lying }: Found): boolean =>
  found.some(
    (f) => f.uses.includes(uses[0]) && lying.places.every((place) => f.lying.places.includes(place)),
  );

const foundIn = (notes: readonly HeldNote[], tuning: Tuning): readonly Found[] => {
  const found: Found[] = [];
  notes.forEach((held, start) => {
    for (const lying of held.tied ? [] : waysToLie(held.hold, tuning)) {
      const [first, ...more] = usesFrom(notes, start, lying);
      if (first !== start) continue;
      const one = fromFirstChange({ notes, uses: [first, ...more], lying });
      if (!isHeld(found, one) && isOne(one)) found.push(one);
    }
  });
  return found;
};

/**
 * Which fingers had better stay down, and where?
 *
 * Across two strings only where these are a perfect fifth apart and until an open string or a lower place of the two is
 * needed; on one string while higher fingers play and the note comes back within a few. A note under an ornament that
 * lifts its own finger (a roll, a strike from below, a slide) ends it. Nothing stays over a rest, a repeat or an ending.
 * @param fingering - of the same score and tuning; worked out when absent
 * @returns the most useful first; of equally useful ones in written order
 */
export const stayDownsOf = (
  score: Score,
  options: FingeringOptions = {},
  fingering: readonly Fingered[] = fingeringOf(score, options),
): readonly StayDown[] => {
  const tuning = options.tuning ?? STANDARD_TUNING;
  const found = heldStretchesOf(score, fingering).flatMap((notes) => foundIn(notes, tuning));
  const times = new Map<string, number>();
  for (const one of found) times.set(figureOf(one), (times.get(figureOf(one)) ?? 0) + 1);
  return found.map((one) => stayDownOf(one, times.get(figureOf(one)) ?? 1)).sort((a, b) => b.worth - a.worth);
};

/** Stay-downs of one part on a sheet for newcomers at most. Source: common practice, "one or two a part". */
const MOST_A_PART = 2;
/** A second one is worth printing only when it is not much less useful than the first. Ours. */
const SECOND_WORTH = 0.4;

const isBefore = (a: Address, b: Address): boolean =>
  a.bar === b.bar ? compare(a.onset, b.onset) < 0 : a.bar < b.bar;

/** Bars of a phrase, which is a printed line or half of one. Common practice. */
const PHRASE = 4;

/** Which phrase of its part each bar belongs to; a pick-up belongs to the bar that it leads into. */
const phrasesOf = (score: Score): ReadonlyMap<string, number> => {
  const phrases = new Map<string, number>();
  for (const part of score.parts) {
    let full = 0;
    part.bars.forEach((bar, index) => {
      phrases.set(`${part.label}/${index}`, Math.floor(full / PHRASE));
      if (bar.role === 'full') full += 1;
    });
  }
  return phrases;
};

const isFirstOfItsFigure = (one: StayDown, stays: readonly StayDown[]): boolean =>
  stays.every((s) => s.from.part !== one.from.part || s.figure !== one.figure || !isBefore(s.from, one.from));

/**
 * The one or two stay-downs of each part that help most: no two at the same time, a figure where it comes first, none
 * that goes on into the next phrase, where a line of print may end.
 * @param stays - most useful first, as `stayDownsOf` returns them for this score
 * @param asked - whether somebody wants one (true), or does not, nor the same figure elsewhere in its part (false)
 * @returns those that are wanted, then the best of the others
 */
export const bestStayDowns = (
  score: Score,
  stays: readonly StayDown[],
  asked: (stay: StayDown) => boolean | null = () => null,
): readonly StayDown[] => {
  const phrases = phrasesOf(score);
  const phraseAt = ({ part, bar }: Address): number => phrases.get(`${part}/${bar}`) ?? 0;
  const refused = stays.filter((stay) => asked(stay) === false);
  const isRefused = (stay: StayDown): boolean =>
    refused.some(({ figure, from }) => figure === stay.figure && from.part === stay.from.part);
  const chosen = stays.filter((stay) => asked(stay) === true);
  const isShownAlready = (stay: StayDown): boolean =>
    chosen.some(({ figure, from }) => figure === stay.figure && from.part === stay.from.part);
  const free = stays.filter((stay) => !isRefused(stay) && !isShownAlready(stay));
  for (const stay of free.filter((one) => isFirstOfItsFigure(one, free))) {
    const inPart = chosen.filter((c) => c.from.part === stay.from.part);
    const clear = inPart.every(
      (c) => c.worth * SECOND_WORTH <= stay.worth && (isBefore(c.to, stay.from) || isBefore(stay.to, c.from)),
    );
    const inPhrase = phraseAt(stay.from) === phraseAt(stay.to);
    if (inPart.length < MOST_A_PART && clear && inPhrase) chosen.push(stay);
  }
  return chosen;
};
