import type { Lesson } from '../../lesson/index.ts';
import { formatChord } from '../../music/index.ts';
import { type EditedAbc, editedAbc, readAbc } from '../../notation/index.ts';

/**
 * The text with the chords of the backing written over the notes where they change, as if each had been put there by hand.
 *
 * A change that falls on no note is left out: there is nothing to write it over.
 */
export const withChordsWritten = (abc: string, lesson: Lesson): EditedAbc => {
  let text = abc;
  let told = '';
  for (const { part, bar, onset, chord } of lesson.chords) {
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
