import type { Finger, Note, Score } from '../score/index.ts';
import { type BowedNote, bowingOf } from './bowing.ts';
import { type BowMark, bowMarksOf, everyBow } from './bowMarks.ts';
import { type Fingered, type FingeringOptions, fingeringOf } from './fingering.ts';
import { everyFinger, type FingerMark, fingerMarksOf, noteKeyOf } from './fingerMarks.ts';
import type { StayDown } from './stayDown.ts';
import { mapNotes } from './strokeChanges.ts';

/** How many fingers and bows are printed, fewest first. */
export const MARK_LEVELS = ['none', 'some', 'all'] as const;
/** `none`: those that are written. `some`: what a player would not guess. `all`: every note and stroke. */
export type MarkLevel = (typeof MARK_LEVELS)[number];

/** Fingers and bows to print over a score. */
export interface HandMarks {
  readonly fingers: readonly FingerMark[];
  readonly bows: readonly BowMark[];
}

/** What to mark. */
export interface MarkOptions extends FingeringOptions {
  readonly level: MarkLevel;
  /** Whether the bow is marked where a written line begins; for sheets it is the printed line that counts. Default false. */
  readonly atWrittenLines?: boolean;
  /** Of the score; worked out when absent. */
  readonly bowing?: readonly BowedNote[];
  /** Of the score, by the same options; worked out when absent. */
  readonly fingering?: readonly Fingered[];
}

/** Which fingers and bows are printed at this level, beside those that are written? */
export const handMarksOf = (score: Score, options: MarkOptions): HandMarks => {
  if (options.level === 'none') return { fingers: [], bows: [] };
  const fingering = options.fingering ?? fingeringOf(score, options);
  const bowing = options.bowing ?? bowingOf(score);
  if (options.level === 'all') return { fingers: everyFinger(fingering), bows: everyBow(bowing) };
  const atWrittenLines = options.atWrittenLines ?? false;
  return { fingers: fingerMarksOf(score, fingering), bows: bowMarksOf(score, bowing, { atWrittenLines }) };
};

const byNote = <T extends FingerMark | BowMark>(marks: readonly T[]): ReadonlyMap<string, readonly T[]> => {
  const notes = new Map<string, T[]>();
  for (const mark of marks) {
    const key = noteKeyOf(mark.address);
    const own = notes.get(key);
    if (own === undefined) notes.set(key, [mark]);
    else own.push(mark);
  }
  return notes;
};

/** The fingers of a note in the order of its pitches, as far as they are marked without a gap. */
const fingersOf = (note: Note, marks: readonly FingerMark[]): readonly Finger[] => {
  if (note.fingers.length > 0) return note.fingers;
  const fingers: Finger[] = [];
  for (const tone of note.pitches.keys()) {
    const mark = marks.find(({ address }) => (address.tone ?? 0) === tone);
    if (mark === undefined) break;
    fingers.push(mark.finger);
  }
  return fingers;
};

/** The score with the marks on its notes, as if they were written; what is written stays. */
export const withHandMarks = (score: Score, marks: HandMarks): Score => {
  const [fingers, bows] = [byNote(marks.fingers), byNote(marks.bows)];
  if (fingers.size === 0 && bows.size === 0) return score;
  return mapNotes(score, (note, at) => {
    const key = noteKeyOf(at);
    return {
      ...note,
      fingers: fingersOf(note, fingers.get(key) ?? []),
      bow: note.bow ?? bows.get(key)?.[0]?.bow ?? null,
    };
  });
};

/** A stay-down as a mark of its finger on the note where it goes down. */
export const stayDownMark = ({ from, finger }: StayDown): FingerMark => ({
  address: from,
  finger,
  second: null,
});
