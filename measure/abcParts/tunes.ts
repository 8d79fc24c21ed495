import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { type ReadTune, readAbc } from '../../src/notation/index.ts';

/** A tune with the text that it was read from. */
export interface TextedTune {
  /** File and number, for reports. */
  readonly name: string;
  /** From its `X:` to its last line. */
  readonly text: string;
  readonly tune: ReadTune;
}

const CORPORA = ['oneill-1903-odd', 'nottingham-odd'];

/** The files of the shared corpora; null where they are absent. */
export const corpusTexts = (): readonly { readonly name: string; readonly text: string }[] | null => {
  const folder = new URL('../../../shared/data/corpora/', import.meta.url);
  if (!existsSync(folder)) return null;
  return CORPORA.flatMap((name) => {
    const inside = new URL(`${name}/`, folder);
    return readdirSync(inside)
      .filter((file) => file.endsWith('.abc'))
      .map((file) => ({ name: file, text: readFileSync(new URL(file, inside), 'utf8') }));
  });
};

/** All tunes of a text. */
export const tunesIn = ({
  name,
  text,
}: {
  readonly name: string;
  readonly text: string;
}): readonly TextedTune[] =>
  readAbc(text).tunes.map((tune) => ({
    name: `${name} X:${tune.score.number}`,
    text: text.slice(tune.span.start, tune.span.end),
    tune,
  }));
