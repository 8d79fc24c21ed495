import type { OrnamentInHand, OrnamentKind } from '../../fiddle/index.ts';
import { midiOf, type Pitch, printedName } from '../../music/index.ts';
import type { Address, Finger } from '../../score/index.ts';
import { fingerOrdinal } from '../fingerWords.ts';
import { joinedPieces, type Piece, type Saying, type Stated, said, saying } from './claims.ts';
import {
  barsSaid,
  bowSaid,
  fingerSaid,
  graceSaid,
  lengthSaid,
  type NoteFacts,
  noteBefore,
  pitchSaid,
  stringSaid,
} from './noteFacts.ts';
import { ornamentWords } from './ornamentWords.ts';

/** One kind of ornament: what it is, where it comes, how the hand makes each, and its slow form. */
export interface OrnamentSection {
  readonly kind: OrnamentKind;
  /** "long rolls", "cut" where there is only one. */
  readonly name: string;
  readonly places: readonly Address[];
  readonly what: string;
  /** "Slowly: …"; empty: learnt as it is. */
  readonly slowly: string;
  /** How the hand makes it, for each pitch and hand that it comes with, the most frequent first. */
  readonly hands: readonly Saying[];
}

/** Ornaments that the hand makes alike. */
type Alike = readonly [OrnamentInHand, ...OrnamentInHand[]];

const addresses = (alike: Alike, of: (one: OrnamentInHand) => Address | undefined): readonly Address[] =>
  alike.flatMap((one) => of(one) ?? []);

const main = (alike: Alike): readonly Address[] => addresses(alike, (one) => one.notes[0].address);

/** Whether a cut stands between two notes of one pitch. */
const partsEqual = (facts: NoteFacts, { ornament }: OrnamentInHand): boolean => {
  const before = noteBefore(facts, ornament.address);
  return before !== undefined && midiOf(before.note.pitches[0]) === midiOf(ornament.pitch);
};

/** " (first finger, A string)": how the note is held; nothing where no hand reaches. */
const held = (facts: NoteFacts, at: readonly Address[]): readonly Piece[] => {
  const [finger, string] = [fingerSaid(facts, at), stringSaid(facts, at)];
  if (finger === '' || string === '') return [];
  return finger.words === 'open string' ? said` (open ${string})` : said` (${finger}, ${string})`;
};

const movesSaid = (finger: Finger, at: readonly Address[]): Stated => ({
  words: fingerOrdinal(finger),
  claim: { kind: 'moves', version: 'full', at, finger },
});

const sameStrokes = (alike: Alike): boolean =>
  alike.every((one) => one.strokes.join() === alike[0].strokes.join());

/** ", in one down-bow": the direction where it is the same every time. */
const inOneBow = (facts: NoteFacts, alike: Alike): readonly Piece[] => {
  if (alike.some((one) => one.strokes.length !== 1 || !one.notes[0].begins)) return [];
  return sameStrokes(alike) ? said`, in one ${bowSaid(facts, main(alike))}` : [];
};

const flickSaid = (alike: Alike, index: 0 | 1): Stated | '' => {
  const flick = alike[0].flicks[index];
  if (flick === undefined) return '';
  const role = index === 0 ? 'cut' : 'strike';
  const pitch = printedName(flick.pitch);
  const { sign, others } = alike[0].ornament;
  if (sign === null && others.length > 0) {
    const at = addresses(alike, (one) => {
      const note = one.notes[index + 1];
      return note === undefined ? undefined : { ...note.address, grace: 0 };
    });
    return pitchSaid(flick.pitch, at);
  }
  return {
    words: pitch,
    claim: { kind: 'flick', version: 'full', at: main(alike), role, pitch: flick.pitch },
  };
};

const roll = (facts: NoteFacts, alike: Alike): readonly Piece[] => {
  const [{ ornament, flicks }] = alike;
  const at = main(alike);
  const [cut, strike] = flicks;
  const bars = barsSaid(facts, at);
  const on = said`${bars}: on ${pitchSaid(ornament.pitch, at)}${held(facts, at)}${inOneBow(facts, alike)}`;
  if (cut?.moves == null || cut.moves === 0 || strike?.moves == null) return said`${on}.`;
  const lower = strike.finger === 0 ? said`the open string` : said`${flickSaid(alike, 1)}`;
  return said`${on}. The ${movesSaid(cut.moves, at)} finger flicks ${flickSaid(alike, 0)}; then the ${movesSaid(strike.moves, at)} lifts to ${lower} and drops back.`;
};

const cut = (facts: NoteFacts, alike: Alike): readonly Piece[] => {
  const [one] = alike;
  const at = main(alike);
  const [flick] = one.flicks;
  const grace = graceSaid(alike, 0);
  const note = said`${pitchSaid(one.ornament.pitch, at)}${held(facts, at)}`;
  const bars = barsSaid(facts, at);
  if (flick?.moves == null || flick.moves === 0) return said`${bars}: ${grace} before ${note}.`;
  const moves = said`the ${movesSaid(flick.moves, at)} finger flicks ${grace}`;
  if (!partsEqual(facts, one)) return said`${bars}: to set off ${note}, ${moves}.`;
  const alone = alike.every((o) => !o.notes[0].begins)
    ? '; the bow goes straight on, so the flick alone parts them'
    : '';
  return said`${bars}: to make two notes of one ${note}, ${moves}${alone}.`;
};

const strike = (facts: NoteFacts, alike: Alike): readonly Piece[] => {
  const [{ ornament, flicks }] = alike;
  const at = main(alike);
  const grace = graceSaid(alike, 0);
  const moves = flicks[0]?.moves;
  const hand =
    moves == null || moves === 0 ? [] : said`: the ${movesSaid(moves, at)} finger lifts and drops back`;
  return said`${barsSaid(facts, at)}: ${grace} before ${pitchSaid(ornament.pitch, at)}${held(facts, at)}${hand}.`;
};

const graces = (facts: NoteFacts, alike: Alike): readonly Piece[] => {
  const [{ ornament }] = alike;
  const at = main(alike);
  const listed = joinedPieces(ornament.others.map((_, i) => [graceSaid(alike, i)]));
  return said`${barsSaid(facts, at)}: ${listed} before ${pitchSaid(ornament.pitch, at)}${held(facts, at)}.`;
};

/** ": up, down, up": the strokes one by one where they are the same every time. */
const strokes = (facts: NoteFacts, alike: Alike): readonly Piece[] => {
  const [one] = alike;
  if (one.strokes.length === 1) return sameStrokes(alike) ? inOneBow(facts, alike) : [', in one bow'];
  if (alike.some((o) => o.strokes.length !== o.notes.length)) return [];
  if (!sameStrokes(alike)) return [', a stroke for each'];
  const each = one.notes.map(({ bow }, i): readonly Piece[] => {
    const at = addresses(alike, (o) => o.notes[i]?.address);
    return [{ words: bow, claim: { kind: 'bow', version: 'full', at, bow } }];
  });
  return said`: ${joinedPieces(each, ', ')}`;
};

const treble = (facts: NoteFacts, alike: Alike): readonly Piece[] => {
  const [{ ornament, notes }] = alike;
  const at = main(alike);
  const last = notes.at(-1);
  const moves =
    ornament.movesOn && last !== undefined
      ? said`, the last moving on to ${pitchSaid(
          last.pitch,
          addresses(alike, (o) => o.notes.at(-1)?.address),
        )}`
      : [];
  const time = lengthSaid(facts, ornament.length, at);
  return said`${barsSaid(facts, at)}: on ${pitchSaid(ornament.pitch, at)}${held(facts, at)}${moves}, in the time of a ${time}${strokes(facts, alike)}.`;
};

const triplet = (facts: NoteFacts, alike: Alike): readonly Piece[] => {
  const [{ notes }] = alike;
  const each = notes.map((note, i) => {
    const at = addresses(alike, (o) => o.notes[i]?.address);
    const finger = fingerSaid(facts, at, true);
    return finger === '' ? [pitchSaid(note.pitch, at)] : said`${pitchSaid(note.pitch, at)} ${finger}`;
  });
  const at = main(alike);
  const oneString = notes.every((n) => n.string === notes[0].string && n.string !== null);
  const where = oneString ? said` on the ${stringSaid(facts, at)}` : [];
  return said`${barsSaid(facts, at)}: ${joinedPieces(each)}${where}${strokes(facts, alike)}.`;
};

const beside = (facts: NoteFacts, alike: Alike): readonly Piece[] => {
  const [one] = alike;
  const at = main(alike);
  const tones = addresses(alike, (o) => o.beside?.address);
  const bars = barsSaid(facts, at);
  const melody = said`${pitchSaid(one.ornament.pitch, at)}${held(facts, at)}`;
  const tone = one.beside;
  if (tone === null) return said`${bars}: with ${melody}.`;
  if (tone.finger === 0 && tone.string !== null)
    return said`${bars}: the open ${stringSaid(facts, tones)} sounds with ${melody}.`;
  const other = said`${pitchSaid(tone.pitch, tones)}${held(facts, tones)}`;
  const laid =
    one.ornament.kind === 'laidFinger' && tone.finger === one.notes[0].finger && tone.finger !== null;
  if (laid)
    return said`${bars}: the ${fingerSaid(facts, at)} lies across for ${pitchSaid(one.ornament.pitch, at)} on the ${stringSaid(facts, at)} and ${pitchSaid(tone.pitch, tones)} on the ${stringSaid(facts, tones)}.`;
  return said`${bars}: ${melody} with ${other}.`;
};

const onNote = (facts: NoteFacts, alike: Alike, how: string): readonly Piece[] => {
  const at = main(alike);
  return said`${barsSaid(facts, at)}: ${how} ${pitchSaid(alike[0].ornament.pitch, at)}${held(facts, at)}.`;
};

const handsOf = (facts: NoteFacts, alike: Alike): readonly Piece[] => {
  const { kind } = alike[0].ornament;
  switch (kind) {
    case 'longRoll':
    case 'shortRoll':
      return roll(facts, alike);
    case 'cut':
      return cut(facts, alike);
    case 'strike':
      return strike(facts, alike);
    case 'doubleGrace':
    case 'graceRun':
      return graces(facts, alike);
    case 'treble':
      return treble(facts, alike);
    case 'runTriplet':
    case 'turnTriplet':
    case 'arpeggioTriplet':
      return triplet(facts, alike);
    case 'drone':
    case 'laidFinger':
    case 'unison':
    case 'doubleStop':
      return beside(facts, alike);
    case 'slide':
      return onNote(facts, alike, 'into');
    case 'trill':
    case 'turn':
    case 'upperMordent':
    case 'lowerMordent':
      return onNote(facts, alike, 'on');
    default:
      return kind satisfies never;
  }
};

const named = (pitch: Pitch | undefined): string => (pitch === undefined ? '' : String(midiOf(pitch)));

/** Ornaments of one kind that are said in one breath have this in common. */
const handKey = (facts: NoteFacts, one: OrnamentInHand): string =>
  [
    ...one.notes.map((n) => `${midiOf(n.pitch)} ${n.string} ${n.finger}`),
    ...one.flicks.map((f) => `${named(f.pitch)} ${f.string} ${f.finger} ${f.moves}`),
    `${named(one.beside?.pitch)} ${one.beside?.string} ${one.beside?.finger}`,
    `${one.ornament.length.num}/${one.ornament.length.den} ${one.ornament.sign}`,
    one.ornament.kind === 'cut' ? `${partsEqual(facts, one)} ${one.notes[0].begins}` : one.strokes.length,
  ].join('; ');

const groupsOf = (facts: NoteFacts, found: readonly OrnamentInHand[]): readonly Alike[] => {
  const groups = new Map<string, [OrnamentInHand, ...OrnamentInHand[]]>();
  for (const one of found) {
    const key = handKey(facts, one);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  return [...groups.values()].toSorted((a, b) => b.length - a.length);
};

/** The ornaments of the full version by kind, the most frequent first. */
export const ornamentSections = (facts: NoteFacts): readonly OrnamentSection[] => {
  const kinds = new Map<OrnamentKind, OrnamentInHand[]>();
  for (const one of facts.ornaments)
    kinds.set(one.ornament.kind, [...(kinds.get(one.ornament.kind) ?? []), one]);
  return [...kinds]
    .toSorted(([, a], [, b]) => b.length - a.length)
    .map(([kind, found]) => {
      const words = ornamentWords(kind, facts.names, facts.words);
      return {
        kind,
        name: found.length === 1 ? words.name : words.names,
        places: found.map((o) => o.ornament.address),
        what: words.what,
        slowly: words.slowly,
        hands: groupsOf(facts, found).map((alike) => saying(handsOf(facts, alike))),
      };
    });
};
