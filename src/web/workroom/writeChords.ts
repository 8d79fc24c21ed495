import { compare } from '../../core/index.ts';
import type { Lesson } from '../../lesson/index.ts';
import { formatChord } from '../../music/index.ts';
import { type EditedAbc, editedAbc, type NoteEdit, readAbc } from '../../notation/index.ts';

/**
 * The text with the chords of the backing written over the notes where they change, as if each had been put there by hand.
 *
 * A change that falls on no note is left out: there is nothing to write it over.
 */
export const withChordsWritten = (abc: string, { chords }: Pick<Lesson, 'chords'>): EditedAbc => {
  let text = abc;
  let told = '';
  for (const { part, bar, onset, chord } of chords) {
    const name = formatChord(chord);
    if (`${part} ${name}` === told) continue;
    const tune = readAbc(text).tunes[0];
    if (tune === undefined) break;
    const edited = editedAbc(text, tune, { kind: 'chord', at: { part, bar, onset }, text: name });
    if (edited.kind === 'problem') continue;
    text = edited.text;
    told = `${part} ${name}`;
  }
  return { kind: 'text', text, change: [] };
};

const chordAt = ({ part, bar, onset, chord }: Lesson['chords'][number]): NoteEdit => ({
  kind: 'chord',
  at: { part, bar, onset },
  text: formatChord(chord),
});

/**
 * The text with a chord changed.
 *
 * A written chord holds until the next one in its part; so in a part that has none yet those of the backing are written in
 * before, and one chord alone is another.
 */
export const withChord = (
  abc: string,
  lesson: Lesson,
  edit: Extract<NoteEdit, { kind: 'chord' }>,
): EditedAbc | null => {
  const { part, bar, onset } = edit.at;
  const bars = lesson.written.parts.find(({ label }) => label === part)?.bars ?? [];
  const isFirst = edit.text !== null && bars.every(({ chords }) => chords.length === 0);
  const chords = isFirst ? lesson.chords.filter((chord) => chord.part === part) : [];
  // What follows is written even where it was so before: else the new chord would go on over it.
  const next = chords.find((c) => c.bar > bar || (c.bar === bar && compare(c.onset, onset) > 0));
  const before = withChordsWritten(abc, { chords });
  const edits = [edit, ...(next === undefined ? [] : [chordAt(next)])];
  let edited: EditedAbc = before;
  for (const each of edits) {
    const text: string = edited.kind === 'text' ? edited.text : abc;
    const tune = readAbc(text).tunes[0];
    if (tune === undefined) return null;
    const done = editedAbc(text, tune, each);
    // A change of the backing that falls on no note cannot be written, and need not be.
    if (done.kind === 'problem' && each !== edit) break;
    edited = done;
    if (edited.kind === 'problem') return edited;
  }
  return isFirst && edited.kind === 'text' ? { ...edited, change: [] } : edited;
};
