import {
  add,
  asWholeNotes,
  compare,
  type Diagnostic,
  type Rational,
  subtract,
  type WholeNotes,
  ZERO,
} from '../../../core/index.ts';
import type { Key, Metre } from '../../../music/index.ts';
import type { Annotation, ChordSymbol, GraceNotes, LooseBar, Mark, Tempo } from '../../../score/index.ts';
import { closeTuplets, type LooseEvent } from '../../closeTuplets.ts';
import type { XmlElement } from '../../xml.ts';
import { attributeOf, elementAt, numberAt, textAt } from '../../xmlTree.ts';
import { keyFrom, metreFrom } from './readAttributes.ts';
import { barlinesOf } from './readBarlines.ts';
import { directionFrom } from './readDirection.ts';
import { chordFrom } from './readHarmony.ts';
import { eventFrom, withGrace, withMelodyFirst, withTone } from './readNote.ts';
import { divisionsFrom, lengthOf } from './readValues.ts';

/** What holds from one measure to the next. */
export interface Running {
  divisions: number;
  key: Key;
  metre: Metre;
  /** Grace notes that wait for the note they lead into. */
  graces: GraceNotes | null;
  readonly diagnostics: Diagnostic[];
}

/** A measure while its elements are gone through. */
interface Desk {
  readonly running: Running;
  readonly number: string;
  readonly voice: string;
  readonly events: LooseEvent[];
  readonly chords: ChordSymbol[];
  readonly annotations: Annotation[];
  /** Where the next element stands. */
  cursor: Rational;
  /** Where the last event of the voice that is read ends. */
  end: Rational;
  /** Whether the last note element was of the voice that is read, so that a chord's tone belongs to it. */
  inVoice: boolean;
  tempo: Tempo | null;
  label: string | null;
  marks: Mark[];
  decorations: string[];
}

const report = (desk: Desk, code: string, message: string): void => {
  desk.running.diagnostics.push({ code, severity: 'warning', message: `Measure ${desk.number}: ${message}` });
};

/** The voice of a note element; the first where it says none. */
export const voiceOf = (note: XmlElement): string =>
  `${textAt(note, 'staff') ?? '1'}/${textAt(note, 'voice') ?? '1'}`;

const silence = (length: WholeNotes): LooseEvent => ({
  event: { kind: 'rest', length, visible: true, tuplet: null, beamedToNext: false, marks: [] },
  ratio: null,
  bracketStarts: false,
  bracketStops: false,
});

/** Silence up to the cursor, where the voice has a gap. */
const fillUpTo = (desk: Desk, until: Rational): void => {
  const gap = subtract(until, desk.end);
  if (gap.num <= 0) return;
  desk.events.push(silence(asWholeNotes(gap)));
  desk.end = until;
};

const placeNote = (desk: Desk, note: XmlElement, length: WholeNotes): void => {
  const { running } = desk;
  if (compare(desk.cursor, desk.end) < 0) {
    report(desk, 'notes-overlap', 'a note begins before the one before it ends and is left out.');
    return;
  }
  fillUpTo(desk, desk.cursor);
  const pending = { graces: running.graces, marks: desk.marks, decorations: desk.decorations };
  const loose = eventFrom(note, length, pending);
  if (loose.event.kind === 'note') running.graces = null;
  desk.marks = [];
  desk.decorations = [];
  desk.events.push(loose);
  desk.end = add(desk.cursor, length);
};

const takeNote = (desk: Desk, note: XmlElement): void => {
  const { running } = desk;
  const isOurs = voiceOf(note) === desk.voice && elementAt(note, 'cue') === null;
  if (elementAt(note, 'chord') !== null) {
    const last = desk.events.at(-1);
    if (desk.inVoice && last !== undefined && elementAt(note, 'grace') === null)
      desk.events[desk.events.length - 1] = withTone(last, note);
    return;
  }
  if (elementAt(note, 'grace') !== null) {
    if (isOurs) running.graces = withGrace(running.graces, note);
    return;
  }
  const length = lengthOf(numberAt(note, 'duration'), running.divisions);
  if (length === null || length.num === 0) {
    report(desk, 'no-duration', 'a note without a length is left out.');
    return;
  }
  if (isOurs) placeNote(desk, note, length);
  desk.inVoice = isOurs;
  desk.cursor = add(desk.cursor, length);
};

const move = (desk: Desk, element: XmlElement, sign: 1 | -1): void => {
  const length = lengthOf(numberAt(element, 'duration'), desk.running.divisions);
  if (length === null) return;
  const moved = sign > 0 ? add(desk.cursor, length) : subtract(desk.cursor, length);
  desk.cursor = moved.num < 0 ? ZERO : moved;
};

const takeAttributes = (desk: Desk, attributes: XmlElement): void => {
  const { running } = desk;
  running.divisions = divisionsFrom(numberAt(attributes, 'divisions')) ?? running.divisions;
  const changes = { key: keyFrom(attributes), metre: metreFrom(attributes) };
  if (desk.events.length > 0 && (changes.key !== null || changes.metre !== null)) {
    report(
      desk,
      'change-inside',
      'key and metre change inside the measure; they are read from the next one.',
    );
  }
  running.key = changes.key ?? running.key;
  running.metre = changes.metre ?? running.metre;
};

/** The cursor, moved by an element's `offset`. */
const onsetOf = (desk: Desk, element: XmlElement): WholeNotes => {
  const offset = lengthOf(numberAt(element, 'offset'), desk.running.divisions);
  return asWholeNotes(offset === null ? desk.cursor : add(desk.cursor, offset));
};

const takeDirection = (desk: Desk, element: XmlElement): void => {
  const { label, tempo, words, marks, decorations } = directionFrom(element);
  desk.label ??= label;
  desk.tempo ??= tempo;
  desk.marks.push(...marks);
  desk.decorations.push(...decorations);
  const onset = onsetOf(desk, element);
  desk.annotations.push(...words.map((w) => ({ ...w, onset })));
};

const takeHarmony = (desk: Desk, element: XmlElement): void => {
  const found = chordFrom(element);
  if (found !== null) desk.chords.push({ ...found, onset: onsetOf(desk, element) });
};

const TAKERS: Readonly<Record<string, (desk: Desk, element: XmlElement) => void>> = {
  note: takeNote,
  backup: (desk, element) => move(desk, element, -1),
  forward: (desk, element) => move(desk, element, 1),
  attributes: takeAttributes,
  direction: takeDirection,
  harmony: takeHarmony,
};

/** Marks that no event follows hang on the last one: "Fine" stands after the last note. */
const withLateMarks = (events: readonly LooseEvent[], marks: readonly Mark[]): readonly LooseEvent[] => {
  const last = events.at(-1);
  if (last === undefined || marks.length === 0) return events;
  const event = { ...last.event, marks: [...last.event.marks, ...marks] };
  return [...events.slice(0, -1), { ...last, event }];
};

/** A measure as a bar; `lineEnd` is set by the measure that follows. */
export const readMeasure = (measure: XmlElement, running: Running, voice: string): LooseBar => {
  const desk: Desk = {
    running,
    number: attributeOf(measure, 'number') ?? '?',
    voice,
    events: [],
    chords: [],
    annotations: [],
    cursor: ZERO,
    end: ZERO,
    inVoice: false,
    tempo: null,
    label: null,
    marks: [],
    decorations: [],
  };
  const opening = { key: running.key, metre: running.metre };
  for (const child of measure.children) {
    if (child === null || typeof child === 'string') continue;
    TAKERS[child.name]?.(desk, child);
    if (child.name === 'attributes' && desk.events.length === 0) {
      opening.key = running.key;
      opening.metre = running.metre;
    }
  }
  return {
    ...opening,
    ...barlinesOf(measure),
    events: closeTuplets(withLateMarks(desk.events, desk.marks)).map(withMelodyFirst),
    chords: desk.chords,
    annotations: desk.annotations,
    fields: [],
    tempo: desk.tempo,
    lineEnd: false,
    partLabel: desk.label,
  };
};
