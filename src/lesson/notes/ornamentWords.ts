import type { OrnamentKind } from '../../fiddle/index.ts';
import type { Words } from '../words.ts';

/** The words that a teacher has for ornaments, used everywhere. */
export interface OrnamentNames {
  /** "cut", "grace note". */
  readonly cut: string;
  /** "treble", "birl", "shiver", "bowed triplet". */
  readonly treble: string;
  /** "triplet", "run". */
  readonly run: string;
  readonly roll: string;
}

/** The words for ornaments where the teacher has not chosen. */
export const USUAL_ORNAMENT_NAMES: OrnamentNames = {
  cut: 'cut',
  treble: 'treble',
  run: 'triplet',
  roll: 'roll',
};

/** What is said of a kind of ornament. `{cut}` and the like stand for the teacher's words, `{crotchet}` for the note value. */
interface OrnamentWords {
  readonly name: string;
  readonly names: string;
  /** What it is and how it sits in time. */
  readonly what: string;
  /** How to learn it, slowly; empty: it is learnt as it is. */
  readonly slowly: string;
}

const words = (name: string, names: string, what: string, slowly = ''): OrnamentWords => ({
  name,
  names,
  what,
  slowly,
});

/** What players call each ornament, what it is, and its slow form. Common practice; see docs/glossary.md. */
const ORNAMENTS: Readonly<Record<OrnamentKind, OrnamentWords>> = {
  cut: words(
    '{cut}',
    '{cut}s',
    'A flick of a higher finger in the stroke of its note: nobody should hear its pitch, and the beat does not wait for it.',
    'Slowly: hold the note, let the upper finger bounce off the string once, and come in with the note on the beat.',
  ),
  strike: words(
    'lower grace note',
    'lower grace notes',
    'The lower note lies ready; the finger above it lifts and falls back at once.',
    'Slowly: play the note, lift, let it fall. Then make the lift so short that the lower note is a click.',
  ),
  doubleGrace: words(
    'double grace note',
    'double grace notes',
    'Two quick notes in one stroke with the note that they lead into.',
    'Slowly: all three as equal notes in one bow, then squeeze the first two.',
  ),
  graceRun: words(
    'run of grace notes',
    'runs of grace notes',
    'Quick and light in one stroke with the note that they lead into.',
    'Slowly: all of them as equal notes in one bow, then squeeze all but the last.',
  ),
  longRoll: words(
    'long {roll}',
    'long {roll}s',
    'Three notes of one pitch in one stroke: a {cut} starts the second, a lower grace note the third.',
    'Slowly: three even {quaver}s in one bow; put the {cut} before the second; when that is even, the lower grace note before the third.',
  ),
  shortRoll: words(
    'short {roll}',
    'short {roll}s',
    'A {cut} and a lower grace note part one pitch, in one stroke and in the time of a {crotchet}.',
    'Slowly: the note above, the note, the note below, the note, four even ones in one bow; then squeeze the first and the third.',
  ),
  treble: words(
    '{treble}',
    '{treble}s',
    'Three strokes from the wrist: the first two as short as they will speak, the last longer.',
    'Slowly: one {crotchet}; then, in its time, two short strokes and a long one, opened out until every one speaks.',
  ),
  runTriplet: words(
    '{run}',
    '{run}s',
    'Three notes by step in the time of two.',
    'Slowly: slur it. At speed some put a {treble} in its place.',
  ),
  turnTriplet: words(
    'turning {run}',
    'turning {run}s',
    'Three notes in the time of two that turn back on themselves.',
    'Slowly: slur it, and keep the three even.',
  ),
  arpeggioTriplet: words(
    'broken {run}',
    'broken {run}s',
    'Three notes by leap in the time of two.',
    'Slowly: slur it, and keep the three even.',
  ),
  slide: words(
    'slide',
    'slides',
    'The finger comes up into the note from about a semitone below, in the same stroke.',
    'Slowly: set the finger a semitone low, start the bow, and arrive.',
  ),
  trill: words('trill', 'trills', 'The note and the one above it in quick alternation.'),
  turn: words('turn', 'turns', 'The note above, the note, the note below, the note.'),
  upperMordent: words('upper mordent', 'upper mordents', 'The note, the one above it, the note, quickly.'),
  lowerMordent: words('lower mordent', 'lower mordents', 'The note, the one below it, the note, quickly.'),
  drone: words(
    'drone',
    'drones',
    'An open string sounds along: let the bow lie flatter and keep the fingers clear of it.',
    'Slowly: bow the open string alone, then both, then set the finger down without choking it.',
  ),
  laidFinger: words(
    'laid finger',
    'laid fingers',
    'One finger lies flat across two strings and stops both.',
    'Slowly: sound each string by itself before both.',
  ),
  unison: words(
    'unison',
    'unisons',
    'One pitch on two strings, the fourth finger against the open string above.',
    'Slowly: tune the fourth finger to the open string until the beating stops.',
  ),
  doubleStop: words(
    'double stop',
    'double stops',
    'Two stopped notes at once: a flat bow, and both fingers down before it starts.',
    'Slowly: set both fingers, sound each string by itself, then both.',
  ),
};

const VALUES: Readonly<Record<Words, Readonly<Record<string, string>>>> = {
  british: { crotchet: 'crotchet', quaver: 'quaver' },
  us: { crotchet: 'quarter note', quaver: 'eighth note' },
};

/** Own words for the names in curly brackets. */
const filled = (text: string, own: Readonly<Record<string, string>>): string =>
  text.replace(/\{(\w+)\}/g, (all, key: string) => own[key] ?? all);

/** What is said of a kind of ornament, in the teacher's words. */
export const ornamentWords = (kind: OrnamentKind, names: OrnamentNames, language: Words): OrnamentWords => {
  const own = { ...names, ...VALUES[language] };
  const { name, names: plural, what, slowly } = ORNAMENTS[kind];
  return {
    name: filled(name, own),
    names: filled(plural, own),
    what: filled(what, own),
    slowly: filled(slowly, own),
  };
};
