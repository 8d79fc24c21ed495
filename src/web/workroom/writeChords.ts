import { compare } from '../../core/index.ts';
import type { Lesson } from '../../lesson/index.ts';
import { formatChord } from '../../music/index.ts';
import { type EditedAbc, editedAbc, type NoteEdit, readAbc } from '../../notation/index.ts';

/** A chord to be written over a note. */
type ChordEdit = Extract<NoteEdit, { kind: 'chord' }>;

const editsOf = (chords: Lesson['chords']): readonly ChordEdit[] =>
  chords.map(({ part, bar, onset, chord }) => ({
    kind: 'chord',
    at: { part, bar, onset },
    text: formatChord(chord),
  }));

/** The text with chords written where they change; what falls on no note is left out. */
const written = (abc: string, edits: readonly ChordEdit[]): EditedAbc => {
  let text = abc;
  let told = '';
  for (const edit of edits) {
    const said = `${edit.at.part} ${edit.text}`;
    if (said === told) continue;
    const tune = readAbc(text).tunes[0];
    if (tune === undefined) break;
    const edited = editedAbc(text, tune, edit);
    if (edited.kind === 'problem') continue;
    text = edited.text;
    told = said;
  }
  return { kind: 'text', text, change: [] };
};

/**
 * The text with the chords of the backing written over the notes where they change, as if each had been put there by hand.
 *
 * A change that falls on no note is left out: there is nothing to write it over.
 */
export const withChordsWritten = (abc: string, { chords }: Lesson): EditedAbc =>
  written(abc, editsOf(chords));

/**
 * The text with the first chord of a part written, and those of the backing beside it: a written chord holds until the next
 * one in its part, and this one alone is meant to be another.
 * @returns null where the part has a written chord already, or the chord is taken away
 */
export const withFirstChord = (abc: string, lesson: Lesson, edit: ChordEdit): EditedAbc | null => {
  const { part, bar, onset } = edit.at;
  const bars = lesson.written.parts.find(({ label }) => label === part)?.bars ?? [];
  if (edit.text === null || bars.some(({ chords }) => chords.length > 0)) return null;
  const tune = readAbc(abc).tunes[0];
  const alone = tune === undefined ? null : editedAbc(abc, tune, edit);
  if (alone?.kind !== 'text') return alone;
  const beside = editsOf(lesson.chords.filter((chord) => chord.part === part));
  const isBefore = ({ at }: ChordEdit): boolean =>
    at.bar < bar || (at.bar === bar && compare(at.onset, onset) < 0);
  const isAfter = ({ at }: ChordEdit): boolean =>
    at.bar > bar || (at.bar === bar && compare(at.onset, onset) > 0);
  return written(abc, [...beside.filter(isBefore), edit, ...beside.filter(isAfter)]);
};
