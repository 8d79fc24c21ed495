import { divide, rational } from '../core/index.ts';
import type { SiteKind } from '../fiddle/index.ts';
import { printedChord, printedName } from '../music/index.ts';
import type { Bow, Finger } from '../score/index.ts';
import {
  type OrnamentSuggestion,
  type Reason,
  type SuggestionSettings,
  suggestOrnaments,
} from '../versions/index.ts';
import { type AcceptedEntry, acceptedEntry } from './acceptedOrnaments.ts';
import type { Lesson } from './lesson.ts';
import { ornamentWords } from './notes/index.ts';
import { barWord, capital, joined, noteValueName, type Words } from './words.ts';

/** A suggested ornament in words. */
export interface SuggestionNote {
  /** "Bar 5, beat 2". */
  readonly place: string;
  /** Printed number of the bar. */
  readonly number: number | null;
  readonly kind: SiteKind;
  /** "Treble on E". */
  readonly what: string;
  /** Why there, in a sentence. */
  readonly reason: string;
  /** What the left hand does, in a sentence. */
  readonly finger: string;
  /** What the bow does, in a sentence. */
  readonly bow: string;
  /** What stands in lesson.json once the teacher has accepted it. */
  readonly accept: AcceptedEntry;
}

/** What a kind is called in a lesson: by the teacher's own words where there are some. */
const nameIn = ({ settings: { names, words } }: Lesson, kind: SiteKind): string =>
  kind === 'doubleGrace'
    ? `two ${ornamentWords('cut', names, words).names}`
    : ornamentWords(kind, names, words).name;

/** What several of a kind are called in a lesson: "long rolls". */
export const suggestedKinds = (lesson: Lesson, kind: SiteKind): string =>
  kind === 'doubleGrace'
    ? nameIn(lesson, kind)
    : ornamentWords(kind, lesson.settings.names, lesson.settings.words).names;

const ORDINALS: readonly string[] = ['open', 'first', 'second', 'third', 'fourth'];
const ordinal = (finger: Finger | undefined): string => ORDINALS[finger ?? 0] ?? '';

const whatOf = (lesson: Lesson, { kind, pitch, others, beside }: OrnamentSuggestion): string => {
  const [on, name] = [printedName(pitch), capital(nameIn(lesson, kind))];
  const comes = joined(others.map(printedName));
  switch (kind) {
    case 'cut':
    case 'doubleGrace':
      return `${name} on ${on}: ${comes} before it`;
    case 'runTriplet':
      return `${name} from ${on} through ${comes}`;
    case 'slide':
      return `${name} into ${on}`;
    case 'drone':
      return `${name} under ${on}: the open ${beside} string`;
    default:
      return `${name} on ${on}`;
  }
};

const accentWords = (accent: string, { beat }: OrnamentSuggestion, words: Words): string => {
  if (accent === 'bar') return `it marks the first beat of the ${barWord(words)}`;
  return accent === 'beat' ? `it marks beat ${beat}` : `it marks the off-beat after beat ${beat}`;
};

const reasonWords = (reason: Reason, suggestion: OrnamentSuggestion, lesson: Lesson): string => {
  const { words } = lesson.settings;
  switch (reason.kind) {
    case 'partsEqual':
      return 'it parts two notes of one pitch';
    case 'accent':
      return accentWords(reason.accent, suggestion, words);
    case 'length':
      return `a ${noteValueName(reason.length, words)} gives it time`;
    case 'noteXNote':
      return `three ${noteValueName(divide(suggestion.length, rational(3)), words)}s stay about one pitch`;
    case 'fillsThird':
      return 'it fills a third';
    case 'openString':
      return `the open ${reason.string} string can have no roll`;
    case 'easyFinger':
      return reason.finger === 0 ? 'the left hand has nothing to do' : 'the first finger lies still under it';
    case 'rings': {
      const chord = printedChord(reason.chord);
      const part = reason.asRoot ? 'is the root of' : 'belongs to';
      return `the open ${reason.string} ${part} the chord, ${chord}`;
    }
    case 'chordTone':
      return `${printedName(suggestion.pitch)} belongs to the chord, ${printedChord(reason.chord)}`;
    case 'lastNote':
      return 'it is the last note of the part';
    case 'comesAgain':
      return `the ${barWord(words)} comes ${reason.times} times, with the same each time`;
    case 'varied':
      return `the ${barWord(words)} came before, with a ${nameIn(lesson, reason.from).replace(/^two /, 'pair of ')}`;
    default:
      return reason satisfies never;
  }
};

const heldWords = ({ finger, string }: OrnamentSuggestion): string =>
  finger === 0 ? `the open ${string} string` : `the ${ordinal(finger)} finger on the ${string} string`;

const fingerOf = (suggestion: OrnamentSuggestion): string => {
  const { kind, flicks, beside } = suggestion;
  const held = heldWords(suggestion);
  const [first, second] = flicks.map(ordinal);
  switch (kind) {
    case 'cut':
      return `The ${first} finger flicks above ${held}.`;
    case 'doubleGrace':
      return `The ${first} and then the ${second} finger flick above ${held}.`;
    case 'shortRoll':
    case 'longRoll':
      return `${capital(held)}: the ${first} flicks above it, then the ${second} lifts and falls back.`;
    case 'treble':
      return `${capital(held)}; the wrist does it.`;
    case 'runTriplet':
      return `It begins with ${held}.`;
    case 'slide':
      return `${capital(held)}, from about a semitone below.`;
    case 'drone':
    case 'unison':
      return `${capital(held)} with the open ${beside}.`;
    default:
      return kind satisfies never;
  }
};

const bowOf = ({ kind, strokes }: OrnamentSuggestion): string => {
  const names: readonly Bow[] = strokes;
  if (kind === 'treble') return `Three strokes: ${names.join(', ')}.`;
  if (kind === 'runTriplet') return `Two strokes, the first over two notes: ${names.join(', ')}.`;
  return names.length === 0 ? 'Inside the slur.' : `${capital(names.join(', '))}-bow.`;
};

/**
 * Which ornaments are suggested for a lesson's tune, in words?
 *
 * None is in the full version before the teacher accepts it: its `accept` then goes into the lesson's settings.
 * @returns in written order
 */
export const suggestionNotesOf = (
  lesson: Lesson,
  settings: SuggestionSettings = {},
): readonly SuggestionNote[] => {
  const { words } = lesson.settings;
  return suggestOrnaments(lesson.versions, settings).map((suggestion): SuggestionNote => {
    const { part, bar: index } = suggestion.address;
    const bar = lesson.versions.plain.parts.find((p) => p.label === part)?.bars[index];
    const number = bar?.number ?? null;
    const reasons = suggestion.reasons.map((reason) => reasonWords(reason, suggestion, lesson));
    return {
      place: `${capital(barWord(words))} ${number ?? `in part ${part}`}, beat ${suggestion.beat}`,
      number,
      kind: suggestion.kind,
      what: whatOf(lesson, suggestion),
      reason: `${capital(reasons.join('; '))}.`,
      finger: fingerOf(suggestion),
      bow: bowOf(suggestion),
      accept: acceptedEntry(lesson.versions.plain, suggestion.address, suggestion.kind),
    };
  });
};
