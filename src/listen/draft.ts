import { type WholeNotes, wholeNotes } from '../core/index.ts';
import {
  DANCES,
  type DanceId,
  type Key,
  type Metre,
  metre,
  pitchAtStaffStep,
  STEPS,
  staffStepOf,
} from '../music/index.ts';
import {
  type Bar,
  type Event,
  type Field,
  type Note,
  type Part,
  plainNote,
  type Score,
} from '../score/index.ts';
import { type DraftBar, draftBars } from './draftBars.ts';
import type { HeardNote } from './hear.ts';
import { keyOfNotes, spelled } from './keyFinder.ts';
import type { PlayedBar } from './playedBars.ts';

/** What a draft is made from. */
export interface DraftSource {
  readonly bars: readonly PlayedBar[];
  readonly heard: readonly HeardNote[];
  readonly dance: DanceId;
  /** Metre as written: count and unit. */
  readonly count: number;
  readonly unit: number;
  readonly swing: number;
  readonly title: string;
  /** Parts in the order in which they were played. */
  readonly form: string;
}

/** A draft of a tune, to be corrected by ear. */
export interface Draft {
  readonly score: Score;
  /** "A3": bars in which the passes disagree. */
  readonly unsure: readonly string[];
}

const isThird = (at: number): boolean =>
  !Number.isInteger(at) && Math.abs(at * 3 - Math.round(at * 3)) < 0.01;

/** Quavers as an exact part of a whole note; triplets are in thirds, semiquavers in halves. */
const lengthOf = (quavers: number): WholeNotes => wholeNotes(Math.round(quavers * 6), 48);

/** A cut's own pitch isn't meant: the next step above is written. */
const cutOn = (note: Note, key: Key): Note => {
  const step = staffStepOf(note.pitches[0]) + 1;
  const letter = STEPS[((step % 7) + 7) % 7] ?? 'C';
  return { ...note, graces: { pitches: [pitchAtStaffStep(step, key.accidentals[letter])], slashed: false } };
};

/** Lengths that are written as one note; others are tied from the longest that fits. */
const PLAIN_LENGTHS = [8, 6, 4, 3, 2, 1.5, 1, 0.5] as const;

const piecesOf = (quavers: number): readonly number[] => {
  if (isThird(quavers)) return [quavers];
  const pieces: number[] = [];
  for (let left = Math.round(2 * quavers) / 2; left > 0; ) {
    const piece = PLAIN_LENGTHS.find((p) => p <= left) ?? 0.5;
    pieces.push(piece);
    left -= piece;
  }
  return pieces;
};

const eventsOf = ({ notes, quavers }: DraftBar, key: Key, beam: number): readonly Event[] => {
  const events: Event[] = [];
  const first = notes[0]?.at ?? quavers;
  for (const rest of piecesOf(first))
    events.push({
      kind: 'rest',
      length: lengthOf(rest),
      visible: true,
      tuplet: null,
      beamedToNext: false,
      marks: [],
    });
  notes.forEach((note, i) => {
    const until = notes[i + 1]?.at ?? quavers;
    const triplet = isThird(note.at) || isThird(until);
    const pieces = triplet ? [2 / 3] : piecesOf(until - note.at);
    let at = note.at;
    pieces.forEach((piece, k) => {
      const plain = plainNote(spelled(note.semitone, key), lengthOf(piece));
      at += piece;
      const index = Math.round((note.at % 2) * 1.5);
      const made: Note = {
        ...plain,
        tiedToNext: k + 1 < pieces.length,
        tuplet: triplet ? { actual: 3, normal: 2, index, count: 3 } : null,
        beamedToNext: piece < 2 && at < quavers - 0.01 && Math.abs((at / beam) % 1) > 0.01,
      };
      events.push(note.cut && k === 0 ? cutOn(made, key) : made);
    });
  });
  return events;
};

interface BarPlace {
  readonly key: Key;
  readonly metre: Metre;
  readonly number: number;
  readonly first: boolean;
  readonly last: boolean;
  readonly repeated: boolean;
  /** The repeat sign stands behind it. */
  readonly turns: boolean;
  /** Begins the ending of that number. */
  readonly ending: readonly number[] | null;
  readonly label: string;
}

/** Bars of a written line. */
const PER_LINE = 4;

const barOf = (bar: DraftBar, index: number, place: BarPlace, beam: number): Bar => ({
  events: eventsOf(bar, place.key, beam),
  key: place.key,
  metre: place.metre,
  role: 'full',
  number: place.number,
  repeatStart: place.first && place.repeated ? 1 : 0,
  repeatEnd: place.turns ? 1 : 0,
  line: place.turns ? 'final' : place.last ? 'double' : 'single',
  ending: place.ending,
  chords: [],
  annotations: bar.unsure ? [{ onset: wholeNotes(0), place: 'above', text: `${place.label}?` }] : [],
  fields: [],
  tempo: null,
  lineEnd: (index + 1) % PER_LINE === 0 || place.last,
});

/** Whether each time the part is played it is played twice in a row. */
const isDoubled = (form: string, part: string): boolean => {
  const runs = form.match(new RegExp(`${part}+`, 'g')) ?? [];
  return runs.length > 0 && runs.every((run) => run.length % 2 === 0);
};

const fieldsOf = (source: DraftSource, unsure: readonly string[]): readonly Field[] => {
  const where = unsure.length === 0 ? 'All passes agree.' : `Unsure, marked with "?": ${unsure.join(', ')}.`;
  return [
    { code: 'T', value: source.title },
    { code: 'R', value: DANCES[source.dance].name },
    {
      code: 'N',
      value: 'DRAFT made by listening to a recording. Check every note by ear before it is used.',
    },
    { code: 'N', value: `Played as ${source.form}. ${where}` },
  ];
};

/**
 * A first draft of the notes: each part's passes merged by vote, spelled in the key that fits.
 *
 * Running notes, triplets, trebles and cuts; a pick-up stands at the end of the bar that it was played in. What the
 * passes disagree on carries a question mark.
 */
export const draftOf = (source: DraftSource): Draft => {
  const labels = [...new Set(source.form)];
  const parts = labels.map((label) => {
    const repeated = isDoubled(source.form, label);
    return { label, repeated, bars: draftBars(source, label, repeated) };
  });
  const all = parts.flatMap((p) => p.bars.flatMap((b) => b.notes));
  const finals = parts.flatMap(
    (p) => p.bars.at(-1)?.notes.findLast((n) => Number.isInteger(n.at) && n.at % 2 === 0)?.semitone ?? [],
  );
  const sounding = source.heard.map((n) => ({
    semitone: n.semitone,
    length: Math.min(0.5, n.end - n.start),
  }));
  const last = source.heard.at(-1)?.semitone;
  const key = keyOfNotes(all.length > 0 ? sounding : [], [...finals, ...(last === undefined ? [] : [last])]);
  const unsure: string[] = [];
  const written = metre(source.count, source.unit);
  let number = 0;
  const made = parts.map(
    ({ label, repeated, bars }): Part => ({
      label,
      named: true,
      bars: bars.map((bar, i) => {
        number += 1;
        const name = `${label}${bar.number}`;
        if (bar.unsure) unsure.push(name);
        const last = i === bars.length - 1;
        const before = bars[i - 1];
        const endsFirst = bar.ending === 1 && bars[i + 1]?.ending === 2;
        const place = {
          key,
          metre: written,
          number,
          first: i === 0,
          last,
          repeated,
          turns: endsFirst || (last && repeated && bar.ending === null),
          ending: bar.ending === null || bar.ending === before?.ending ? null : [bar.ending],
          label: name,
        };
        return barOf(bar, i, place, source.unit === 8 ? 3 : 4);
      }),
    }),
  );
  return {
    unsure,
    score: {
      number: 1,
      fields: fieldsOf(source, unsure),
      metre: written,
      key,
      unit: wholeNotes(1, 8),
      tempo: null,
      partOrder: null,
      parts: made,
    },
  };
};
