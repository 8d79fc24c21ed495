import type { WholeNotes } from '../../../core/index.ts';
import type { Pitch } from '../../../music/index.ts';
import {
  type Bow,
  type Event,
  type Finger,
  type GraceNotes,
  type Mark,
  melodyFirst,
  type Note,
  type OrnamentSign,
} from '../../../score/index.ts';
import type { LooseEvent, Ratio } from '../../closeTuplets.ts';
import type { XmlElement } from '../../xml.ts';
import { attributeOf, childrenNamed, elementAt, numberAt, textAt, textOf } from '../../xmlTree.ts';
import { pitchOf } from './readValues.ts';

/** What stands before a note in the file and belongs to it. */
export interface Pending {
  readonly graces: GraceNotes | null;
  readonly marks: readonly Mark[];
  readonly decorations: readonly string[];
}

/**
 * Signs by element. In this trade a turn over a note is how a roll is printed (common practice), and the glides that
 * lead into a note are slides. Source: MusicXML 4.0, elements ornaments, articulations.
 */
const SIGNS: Readonly<Record<string, OrnamentSign>> = {
  turn: 'roll',
  'trill-mark': 'trill',
  'inverted-mordent': 'upperMordent',
  mordent: 'lowerMordent',
  scoop: 'slide',
  plop: 'slide',
};
const MARKS: Readonly<Record<string, Mark>> = {
  staccato: 'staccato',
  accent: 'accent',
  'strong-accent': 'accent',
  tenuto: 'tenuto',
  'breath-mark': 'breath',
};
const FINGERS: readonly Finger[] = [0, 1, 2, 3, 4];

const notationsNamed = (note: XmlElement, ...path: readonly [string, ...string[]]): readonly XmlElement[] =>
  childrenNamed(note, 'notations').flatMap((notations) => {
    const [last = '', ...before] = path.toReversed();
    let holders: readonly XmlElement[] = [notations];
    for (const name of before.toReversed()) holders = holders.flatMap((h) => childrenNamed(h, name));
    return holders.flatMap((h) => childrenNamed(h, last));
  });

const namesIn = (note: XmlElement, group: string): readonly string[] =>
  notationsNamed(note, group).flatMap((g) =>
    g.children.flatMap((c) => (c === null || typeof c === 'string' ? [] : [c.name])),
  );

const mapped = <T>(names: readonly string[], table: Readonly<Record<string, T>>): readonly T[] => [
  ...new Set(names.flatMap((name) => (Object.hasOwn(table, name) ? [table[name] as T] : []))),
];

const bowOf = (note: XmlElement): Bow | null => {
  const names = namesIn(note, 'technical');
  if (names.includes('up-bow')) return 'up';
  return names.includes('down-bow') ? 'down' : null;
};

/** The finger over a note; null where none or none of five. */
const fingerOf = (note: XmlElement): Finger | null => {
  const written = notationsNamed(note, 'technical', 'fingering')[0];
  if (written === undefined) return namesIn(note, 'technical').includes('open-string') ? 0 : null;
  return FINGERS.find((f) => String(f) === textOf(written)) ?? null;
};

const marksOf = (note: XmlElement): readonly Mark[] => [
  ...mapped(namesIn(note, 'articulations'), MARKS),
  ...(notationsNamed(note, 'fermata').length > 0 ? (['fermata'] as const) : []),
];

const typesOf = (elements: readonly XmlElement[], type: string): number =>
  elements.filter((e) => attributeOf(e, 'type') === type).length;

/** The first verse's syllable, with a hyphen where the word goes on. */
const lyricOf = (note: XmlElement): string | null => {
  const [lyric] = childrenNamed(note, 'lyric');
  const text = lyric === undefined ? null : textAt(lyric, 'text');
  if (lyric === undefined || text === null || text === '') return null;
  const goesOn = ['begin', 'middle'].includes(textAt(lyric, 'syllabic') ?? '');
  return goesOn && !text.endsWith('-') ? `${text}-` : text;
};

const ratioOf = (note: XmlElement): Ratio | null => {
  const actual = numberAt(note, 'time-modification', 'actual-notes');
  const normal = numberAt(note, 'time-modification', 'normal-notes');
  if (actual === null || normal === null || actual === normal) return null;
  return Number.isInteger(actual) && Number.isInteger(normal) && actual > 1 && normal > 0
    ? { actual, normal }
    : null;
};

const isBeamedOn = (note: XmlElement): boolean => {
  const first = childrenNamed(note, 'beam').find((b) => (attributeOf(b, 'number') ?? '1') === '1');
  return first !== undefined && ['begin', 'continue'].includes(textOf(first));
};

const noteEvent = (note: XmlElement, pitch: Pitch, length: WholeNotes, pending: Pending): Note => {
  const slurs = notationsNamed(note, 'slur');
  const finger = fingerOf(note);
  return {
    kind: 'note',
    pitches: [pitch],
    length,
    graces: pending.graces,
    signs: mapped([...namesIn(note, 'ornaments'), ...namesIn(note, 'articulations')], SIGNS),
    marks: [...marksOf(note), ...pending.marks],
    bow: bowOf(note),
    fingers: finger === null ? [] : [finger],
    slurs: { opens: typesOf(slurs, 'start'), closes: typesOf(slurs, 'stop') },
    tiedToNext: typesOf(childrenNamed(note, 'tie'), 'start') > 0,
    tuplet: null,
    beamedToNext: isBeamedOn(note),
    otherDecorations: [...pending.decorations],
    lyric: lyricOf(note),
  };
};

/** A rest or a note without a pitch as silence. */
const restEvent = (note: XmlElement, length: WholeNotes, pending: Pending): Event => ({
  kind: 'rest',
  length,
  visible: attributeOf(note, 'print-object') !== 'no',
  tuplet: null,
  beamedToNext: isBeamedOn(note),
  marks: [...marksOf(note), ...pending.marks],
});

/** The event of a note element that is neither a grace note nor a further tone of a chord. */
export const eventFrom = (note: XmlElement, length: WholeNotes, pending: Pending): LooseEvent => {
  const pitch = pitchOf(note);
  const brackets = notationsNamed(note, 'tuplet');
  return {
    event: pitch === null ? restEvent(note, length, pending) : noteEvent(note, pitch, length, pending),
    ratio: ratioOf(note),
    bracketStarts: typesOf(brackets, 'start') > 0,
    bracketStops: typesOf(brackets, 'stop') > 0,
  };
};

/** An event with one more pitch, and the finger over it. */
export const withTone = (loose: LooseEvent, note: XmlElement): LooseEvent => {
  const pitch = pitchOf(note);
  if (pitch === null || loose.event.kind === 'rest') return loose;
  const { pitches, fingers } = loose.event;
  const finger = fingerOf(note);
  const isNext = finger !== null && fingers.length === pitches.length;
  return {
    ...loose,
    event: {
      ...loose.event,
      pitches: [...pitches, pitch],
      fingers: isNext ? [...fingers, finger] : fingers,
    },
  };
};

/** The event with its melody note first, its fingers with their notes. */
export const withMelodyFirst = (event: Event): Event => {
  if (event.kind === 'rest' || event.pitches.length === 1) return event;
  const pitches = melodyFirst(event.pitches);
  const whole = event.fingers.length === event.pitches.length;
  const fingers = pitches.map((p) => event.fingers[event.pitches.indexOf(p)]).filter((f) => f !== undefined);
  return { ...event, pitches, fingers: whole ? fingers : event.fingers };
};

/** Grace notes with one more. */
export const withGrace = (graces: GraceNotes | null, note: XmlElement): GraceNotes | null => {
  const pitch = pitchOf(note);
  if (pitch === null) return graces;
  const grace = elementAt(note, 'grace');
  const slashed = grace !== null && attributeOf(grace, 'slash') === 'yes';
  return graces === null ? { pitches: [pitch], slashed } : { ...graces, pitches: [...graces.pitches, pitch] };
};
