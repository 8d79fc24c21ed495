import { formatRational } from '../../core/index.ts';
import { formatPitch } from '../../music/index.ts';
import { barsOf, notesOf, type Score } from '../../score/index.ts';
import { type ReadTune, readAbc } from '../abc/index.ts';

/** The only tune of a text with this music behind this header. @throws Error when there is none */
export const readOne = (music: string, header = 'M:4/4\nL:1/8\nK:C'): ReadTune => {
  const [tune] = readAbc(`X:1\nT:Test\n${header}\n${music}\n`).tunes;
  if (tune === undefined) throw new Error('no tune was read');
  return tune;
};

/** Played lengths of all notes and rests: "3/16". */
export const lengthsOf = ({ score }: { readonly score: Score }): readonly string[] =>
  barsOf(score).flatMap(({ bar }) => bar.events.map((e) => formatRational(e.length)));

/** All melody pitches: "F#4". */
export const pitchesOf = ({ score }: { readonly score: Score }): readonly string[] =>
  notesOf(score).map(({ note }) => formatPitch(note.pitches[0]));

/** Codes of a tune's problems in order. */
export const codesOf = ({ diagnostics }: ReadTune): readonly string[] => diagnostics.map((d) => d.code);
