import { type FoundOrnament, type OrnamentKind, ornamentsOf } from '../fiddle/index.ts';
import { type Pitch, printedChord, printedName } from '../music/index.ts';
import { barsOf, fingerprintOf, type PlacedBar, playedOrder } from '../score/index.ts';
import type { Lesson } from './lesson.ts';
import { barWord, capital, inSentence, joined, listOfBars, type Words } from './words.ts';

/** What is in one printed bar. */
export interface BarNote {
  readonly part: string;
  /** Index in the part's written bars. */
  readonly bar: number;
  /** "Bar 3", "Pick-up to part A". */
  readonly label: string;
  /** Printed number; null for a pick-up. */
  readonly number: number | null;
  /** Whole sentences, chords first; empty never. */
  readonly sentences: readonly string[];
  /** An earlier bar that is the same to the note and sentence, where there is one: "bar 3". */
  readonly sameAs: string | null;
}

/** One kind of ornament and where it comes. */
export interface OrnamentNote {
  readonly kind: OrnamentKind;
  /** "long roll". */
  readonly name: string;
  /** What the hands do, in a sentence. */
  readonly explanation: string;
  /** "Bars 1, 3 and 5", "Bar 6, pick-up to part B": numbered bars first, each once. */
  readonly places: string;
}

/** What players call each ornament, and what it is in a sentence. Common practice; see docs/glossary.md. */
const ORNAMENTS: Readonly<Record<OrnamentKind, readonly [name: string, explanation: string]>> = {
  cut: ['cut', 'A flick of a higher finger; nobody should hear its pitch, and it takes no time of its own.'],
  strike: [
    'lower grace note',
    'The lower finger is down already; the upper one lifts and falls back at once.',
  ],
  doubleGrace: [
    'double grace note',
    'Two grace notes in one stroke, quick and light, in the time of the note that follows.',
  ],
  graceRun: ['run of grace notes', 'Quick and light in one stroke, in the time of the note that follows.'],
  longRoll: [
    'long roll',
    'Three notes of one pitch in one stroke: a cut starts the second, a lower grace note the third.',
  ],
  shortRoll: [
    'short roll',
    'A cut and a lower grace note part one pitch, all in one stroke and in the time of a crotchet.',
  ],
  treble: [
    'treble',
    'Three strokes from the wrist in the time of one longer note, the first two as short as they will speak.',
  ],
  runTriplet: [
    'run-triplet',
    'Three notes in the time of two, filling a third; slur it when you play it slowly.',
  ],
  turnTriplet: ['turn', 'Three notes in the time of two that turn round a note.'],
  arpeggioTriplet: ['triplet', 'Three notes in the time of two.'],
  slide: ['slide', 'The finger slides up into the note from about a semitone below, in the same stroke.'],
  trill: ['trill', 'The note and the one above in quick alternation.'],
  turn: ['turn', 'The note above, the note, the note below and the note again.'],
  upperMordent: ['upper mordent', 'The note, the one above and the note again, quickly.'],
  lowerMordent: ['lower mordent', 'The note, the one below and the note again, quickly.'],
  drone: ['drone', 'A neighbouring open string sounds along: let the bow lie flatter.'],
  laidFinger: ['laid finger', 'One finger is laid across two strings and stops both.'],
  unison: ['unison', 'The open string and the fourth finger on the string below sound together.'],
  doubleStop: ['double stop', 'Two fingered notes sound together on neighbouring strings.'],
};

/** In US words the explanations speak of quarter notes. */
const explanationOf = (kind: OrnamentKind, lesson: Lesson): string =>
  lesson.settings.words === 'us'
    ? ORNAMENTS[kind][1].replace('crotchet', 'quarter note')
    : ORNAMENTS[kind][1];

const names = (pitches: readonly Pitch[]): string => joined(pitches.map(printedName));

/** A label in the middle of a sentence. */

const article = (word: string): string => (/^[aeiou]/.test(word) ? 'an' : 'a');

const ornamentSentence = (ornament: FoundOrnament): string => {
  const name = ORNAMENTS[ornament.kind][0];
  const on = printedName(ornament.pitch);
  switch (ornament.kind) {
    case 'cut':
    case 'strike':
    case 'doubleGrace':
    case 'graceRun':
      return `${capital(name)} ${names(ornament.others)} before ${on}.`;
    case 'slide':
      return `Slide into ${on}.`;
    case 'drone':
      return `Drone: the open ${ornament.string?.charAt(0) ?? ''} string sounds along with ${on}.`;
    case 'laidFinger':
    case 'unison':
    case 'doubleStop':
      return `${capital(name)}: ${names([ornament.pitch, ...ornament.others])}.`;
    case 'treble':
      return ornament.movesOn ? `Treble on ${on}; its last note moves on.` : `Treble on ${on}.`;
    case 'runTriplet':
    case 'turnTriplet':
    case 'arpeggioTriplet':
      return `${capital(name)} from ${on}.`;
    default:
      return `${capital(article(name))} ${name} on ${on}.`;
  }
};

const labelOf = ({ bar, part }: PlacedBar, words: Words): string => {
  if (bar.number !== null) return capital(`${barWord(words)} ${bar.number}`);
  return bar.role === 'pickup' ? `Pick-up to part ${part}` : `Rest of the ${barWord(words)} in part ${part}`;
};

/** Numbered bars in one list, the others after it. */
const placesOf = (bars: readonly PlacedBar[], words: Words): string => {
  const numbers = bars.flatMap(({ bar }) => (bar.number === null ? [] : [String(bar.number)]));
  const others = bars.filter(({ bar }) => bar.number === null).map((bar) => inSentence(labelOf(bar, words)));
  const listed = numbers.length === 0 ? [] : [listOfBars(numbers, words)];
  return capital([...listed, ...others].join(', '));
};

const noteCount = (lesson: Lesson, version: 'bones' | 'plain', part: string, index: number): number =>
  lesson.versions[version].parts
    .find((p) => p.label === part)
    ?.bars[index]?.events.filter((e) => e.kind === 'note').length ?? 0;

const bonesSentence = (lesson: Lesson, part: string, index: number): string => {
  const plain = noteCount(lesson, 'plain', part, index);
  const bones = noteCount(lesson, 'bones', part, index);
  if (plain === 0) return 'A rest.';
  if (bones === plain) return 'The bones have all its notes.';
  return `The bones keep ${bones} of its ${plain} notes.`;
};

const chordSentence = (lesson: Lesson, part: string, index: number): readonly string[] => {
  const chords = lesson.chords
    .filter((c) => c.part === part && c.bar === index)
    .map((c) => printedChord(c.chord));
  const changes = chords.filter((c, i) => c !== chords[i - 1]);
  return changes.length === 0 ? [] : [`${changes.length === 1 ? 'Chord' : 'Chords'} ${joined(changes)}.`];
};

/** The values by key, keys in the order in which they first come. */
const groupedBy = <K, V>(values: readonly V[], keyOf: (value: V) => K): ReadonlyMap<K, readonly V[]> => {
  const groups = new Map<K, V[]>();
  for (const value of values) {
    const group = groups.get(keyOf(value));
    if (group === undefined) groups.set(keyOf(value), [value]);
    else group.push(value);
  }
  return groups;
};

const placeKey = (part: string, bar: number): string => `${part}/${bar}`;

/** What is in each printed bar of the full version, in order. */
export const barNotesOf = (lesson: Lesson): readonly BarNote[] => {
  const ornaments = groupedBy(ornamentsOf(lesson.versions.full), (o) =>
    placeKey(o.address.part, o.address.bar),
  );
  const seen = new Map<string, string>();
  return barsOf(lesson.versions.full).map((placed) => {
    const { bar, part, index } = placed;
    const sentences = [
      ...chordSentence(lesson, part, index),
      ...(ornaments.get(placeKey(part, index)) ?? []).map(ornamentSentence),
      bonesSentence(lesson, part, index),
    ];
    const label = labelOf(placed, lesson.settings.words);
    const likeness = `${bar.role} ${fingerprintOf(bar)} ${sentences.join(' ')}`;
    const sameAs = seen.get(likeness) ?? null;
    if (sameAs === null) seen.set(likeness, inSentence(label));
    return { part, bar: index, label, number: bar.number, sentences, sameAs };
  });
};

/** The ornaments of the full version by kind, in the order in which they first come. */
export const ornamentNotesOf = (lesson: Lesson): readonly OrnamentNote[] => {
  const bars = barsOf(lesson.versions.full);
  const kinds = groupedBy(ornamentsOf(lesson.versions.full), (o) => o.kind);
  return [...kinds].map(([kind, found]) => {
    const keys = new Set(found.map((o) => placeKey(o.address.part, o.address.bar)));
    const places = bars.filter((b) => keys.has(placeKey(b.part, b.index)));
    return {
      kind,
      name: ORNAMENTS[kind][0],
      explanation: explanationOf(kind, lesson),
      places: placesOf(places, lesson.settings.words),
    };
  });
};

/** Bars as printed and as played once through, pick-ups left out. */
export const barCounts = (lesson: Lesson): { readonly printed: number; readonly played: number } => {
  const numbered = new Set(
    barsOf(lesson.written)
      .filter((b) => b.bar.number !== null)
      .map((b) => placeKey(b.part, b.index)),
  );
  const played = playedOrder(lesson.written).filter((b) => numbered.has(placeKey(b.part, b.bar))).length;
  return { printed: numbered.size, played };
};
