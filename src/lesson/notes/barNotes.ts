import { wholeNotes } from '../../core/index.ts';
import type { OrnamentInHand } from '../../fiddle/index.ts';
import { printedChord } from '../../music/index.ts';
import { addressKey, fingerprintOf, notesOf, type PlacedBar } from '../../score/index.ts';
import { fingerOrdinal } from '../fingerWords.ts';
import { barWord, capital, inSentence, joined } from '../words.ts';
import { joinedPieces, type Piece, type Saying, said, saying } from './claims.ts';
import {
  barKey,
  beatSaid,
  bowSaid,
  graceSaid,
  type NoteFacts,
  pitchSaid,
  placeName,
  stringSaid,
} from './noteFacts.ts';
import { ornamentWords } from './ornamentWords.ts';

/** What is in one written bar. */
export interface BarNote {
  readonly part: string;
  /** Index in the part's written bars. */
  readonly bar: number;
  /** "Bar 3", "The pick-up to part A". */
  readonly label: string;
  /** Printed number; null for a pick-up. */
  readonly number: number | null;
  /** Chords first; never empty. */
  readonly sayings: readonly Saying[];
  /** An earlier bar that is the same to the note and sentence, where there is one: "bar 3". */
  readonly sameAs: string | null;
}

const chordSaying = ({ lesson }: NoteFacts, { part, index }: PlacedBar): readonly Saying[] => {
  const chords = lesson.chords
    .filter((c) => c.part === part && c.bar === index)
    .map((c) => printedChord(c.chord));
  const changes = chords.filter((c, i) => c !== chords[i - 1]);
  if (changes.length === 0) return [];
  const at = [{ part, bar: index, onset: wholeNotes(0) }];
  const named: Piece = {
    words: joined(changes),
    claim: { kind: 'chords', version: 'full', at, names: changes },
  };
  return [saying(said`${changes.length === 1 ? 'Chord' : 'Chords'} ${named}.`)];
};

/** What an ornament is on, briefly: its hands and slow form stand under its kind. */
const onWhat = (facts: NoteFacts, one: OrnamentInHand): readonly Piece[] => {
  const { ornament, notes, flicks, beside } = one;
  const at = [notes[0].address];
  const pitch = pitchSaid(ornament.pitch, at);
  const [flick] = flicks;
  switch (ornament.kind) {
    case 'cut': {
      const grace = graceSaid([one], 0);
      return flick?.moves == null || flick.moves === 0
        ? said` ${grace} before ${pitch}`
        : said` ${grace} before ${pitch}, ${movesOf(one)} finger`;
    }
    case 'strike':
    case 'doubleGrace':
    case 'graceRun':
      return said` ${joinedPieces(ornament.others.map((_, i) => [graceSaid([one], i)]))} before ${pitch}`;
    case 'runTriplet':
    case 'turnTriplet':
    case 'arpeggioTriplet':
      return said` ${joinedPieces(notes.map((n) => [pitchSaid(n.pitch, [n.address])]))}`;
    case 'drone':
    case 'laidFinger':
    case 'unison':
    case 'doubleStop':
      if (beside?.finger === 0 && ornament.string !== null)
        return said` on ${pitch}, open ${stringSaid(facts, [beside.address])}`;
      return beside === null
        ? said` on ${pitch}`
        : said`: ${pitch} with ${pitchSaid(beside.pitch, [beside.address])}`;
    case 'slide':
      return said` into ${pitch}`;
    default:
      return said` on ${pitch}`;
  }
};

const movesOf = ({ flicks, notes }: OrnamentInHand): Piece => {
  const finger = flicks[0]?.moves ?? 0;
  return {
    words: fingerOrdinal(finger),
    claim: { kind: 'moves', version: 'full', at: [notes[0].address], finger },
  };
};

const ornamentSaying = (facts: NoteFacts, one: OrnamentInHand): Saying => {
  const { name } = ornamentWords(one.ornament.kind, facts.names, facts.words);
  const at = one.notes[0].address;
  const bow = one.strokes.length === 1 && one.notes[0].begins ? said`, ${bowSaid(facts, [at])}` : [];
  return saying(said`${beatSaid(facts, at)}: ${name}${onWhat(facts, one)}${bow}.`);
};

const bonesSaying = (facts: NoteFacts, { part, index, bar }: PlacedBar): Saying => {
  const inBar = (version: 'bones' | 'plain') =>
    notesOf(facts.lesson.versions[version]).filter(
      ({ address }) => address.part === part && address.bar === index,
    );
  const [kept, all] = [inBar('bones'), inBar('plain')];
  if (all.length === 0) return saying(['A rest.']);
  if (kept.length === all.length) {
    const at = kept.map((n) => n.address);
    return saying([
      { words: `The bones have all its notes.`, claim: { kind: 'keepsAll', version: 'bones', at } },
    ]);
  }
  const names = joinedPieces(kept.map((n) => [pitchSaid(n.note.pitches[0], [n.address], 'bones')]));
  const count = (of: typeof kept, version: 'bones' | 'plain'): Piece => ({
    words: String(of.length),
    claim: { kind: 'count', version, at: of.map((n) => n.address), count: of.length, of: 'notes' },
  });
  const it = bar.role === 'full' ? barWord(facts.words) : 'notes';
  return saying(
    it === 'notes'
      ? said`The bones keep ${names}.`
      : said`The bones keep ${names}: ${count(kept, 'bones')} of its ${count(all, 'plain')} notes.`,
  );
};

/** A bar that the bow enters with an up-stroke. */
const openingSaying = (facts: NoteFacts, { part, index, bar }: PlacedBar): readonly Saying[] => {
  const first = facts.notes.find(({ address }) => address.part === part && address.bar === index);
  const bowed = first === undefined ? undefined : facts.bows.get(addressKey(first.address));
  if (first === undefined || bar.number === null || first.address.onset.num !== 0) return [];
  if (bowed?.bow !== 'up' || !bowed.begins) return [];
  return [
    saying([
      {
        words: 'It starts on an up-bow.',
        claim: { kind: 'opens', version: 'full', at: [first.address], bow: 'up', count: 1 },
      },
    ]),
  ];
};

/** What is in each written bar of the full version, in order. */
export const barNotesOf = (facts: NoteFacts): readonly BarNote[] => {
  const seen = new Map<string, string>();
  return [...facts.bars.values()].map((placed) => {
    const { bar, part, index } = placed;
    const place = { part, bar: index };
    const sayings = [
      ...chordSaying(facts, placed),
      ...openingSaying(facts, placed),
      ...facts.ornaments
        .filter(({ ornament }) => barKey(ornament.address) === barKey(place))
        .map((one) => ornamentSaying(facts, one)),
      bonesSaying(facts, placed),
    ];
    const label = capital(placeName(facts, place));
    const likeness = `${bar.role} ${fingerprintOf(bar)} ${sayings.map((s) => s.text).join(' ')}`;
    const sameAs = seen.get(likeness) ?? null;
    if (sameAs === null) seen.set(likeness, inSentence(label));
    return { part, bar: index, label, number: bar.number, sayings, sameAs };
  });
};
