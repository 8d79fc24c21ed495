import { formatRational, parseWholeNotes } from '../../core/index.ts';
import { formatPitch, pitch } from '../../music/index.ts';
import {
  type Bow,
  type Event,
  type Finger,
  type GraceNotes,
  type Mark,
  type Note,
  type OrnamentSign,
  plainNote,
  type TupletPlace,
} from '../../score/index.ts';

/** Signs that a stored note may bear. */
export const STORED_SIGNS = [
  'roll',
  'slide',
  'trill',
  'turn',
  'upperMordent',
  'lowerMordent',
] as const satisfies readonly OrnamentSign[];
/** Marks that a stored note may bear. */
export const STORED_MARKS = [
  'staccato',
  'accent',
  'fermata',
  'tenuto',
  'segno',
  'coda',
  'fine',
  'dacapo',
  'dalsegno',
  'breath',
] as const satisfies readonly Mark[];

/** A note or rest as the lesson file holds it: pitches and exact lengths, nothing that depends on a key or unit. */
export type StoredEvent =
  | {
      /** "F#5", the melody first. */
      readonly pitches: readonly string[];
      /** Played length in whole notes, "3/8". */
      readonly length: string;
      readonly tied?: boolean | undefined;
      readonly tuplet?: TupletPlace | undefined;
      readonly bow?: Bow | undefined;
      readonly fingers?: readonly Finger[] | undefined;
      /** Slurs that begin and end with this note. */
      readonly slurs?: { readonly opens: number; readonly closes: number } | undefined;
      /** Grace notes before it. */
      readonly graces?: readonly string[] | undefined;
      readonly signs?: readonly OrnamentSign[] | undefined;
      readonly marks?: readonly Mark[] | undefined;
      /** Beamed to the next one. */
      readonly beamed?: boolean | undefined;
    }
  | { readonly rest: string; readonly tuplet?: TupletPlace | undefined };

const storedNote = (note: Note): StoredEvent => ({
  pitches: note.pitches.map(formatPitch),
  length: formatRational(note.length),
  ...(note.tiedToNext ? { tied: true } : {}),
  ...(note.tuplet === null ? {} : { tuplet: note.tuplet }),
  ...(note.bow === null ? {} : { bow: note.bow }),
  ...(note.fingers.length === 0 ? {} : { fingers: note.fingers }),
  ...(note.slurs.opens + note.slurs.closes === 0 ? {} : { slurs: note.slurs }),
});

/** The events of a bar for the lesson file; ornaments and other signs stay behind. */
export const storedEvents = (events: readonly Event[]): readonly StoredEvent[] =>
  events.map((event) =>
    event.kind === 'note'
      ? storedNote(event)
      : {
          rest: formatRational(event.length),
          ...(event.tuplet === null ? {} : { tuplet: event.tuplet }),
        },
  );

/** The events of a bar for the lesson file, their ornaments and beams with them. */
export const storedWhole = (events: readonly Event[]): readonly StoredEvent[] =>
  storedEvents(events).map((stored, i): StoredEvent => {
    const event = events[i];
    if ('rest' in stored || event?.kind !== 'note') return stored;
    return {
      ...stored,
      ...(event.graces === null ? {} : { graces: event.graces.pitches.map(formatPitch) }),
      ...(event.signs.length === 0 ? {} : { signs: event.signs }),
      ...(event.marks.length === 0 ? {} : { marks: event.marks }),
      ...(event.beamedToNext ? { beamed: true } : {}),
    };
  });

const gracesOf = (names: readonly string[] | undefined): GraceNotes | null => {
  const [first, ...others] = (names ?? []).map(pitch);
  return first === undefined ? null : { pitches: [first, ...others], slashed: false };
};

/**
 * A bar's events from the lesson file.
 * @throws RangeError when a pitch or length is none (the reader of the file has seen to it)
 */
export const eventsOf = (stored: readonly StoredEvent[]): readonly Event[] =>
  stored.map((event): Event => {
    const tuplet = event.tuplet ?? null;
    if ('rest' in event)
      return {
        kind: 'rest',
        length: parseWholeNotes(event.rest),
        visible: true,
        tuplet,
        beamedToNext: false,
        marks: [],
      };
    const [melody, ...others] = event.pitches.map(pitch);
    if (melody === undefined) throw new RangeError('a stored note has no pitch');
    return {
      ...plainNote(melody, parseWholeNotes(event.length)),
      pitches: [melody, ...others],
      tiedToNext: event.tied === true,
      tuplet,
      bow: event.bow ?? null,
      fingers: event.fingers ?? [],
      slurs: event.slurs ?? { opens: 0, closes: 0 },
      graces: gracesOf(event.graces),
      signs: event.signs ?? [],
      marks: event.marks ?? [],
      beamedToNext: event.beamed === true,
    };
  });
