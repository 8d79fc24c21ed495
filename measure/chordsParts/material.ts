import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { readAbc } from '../../src/notation/index.ts';
import type { Score } from '../../src/score/index.ts';

const FOLDER = new URL('../../../shared/data/corpora/nottingham-odd/', import.meta.url);

/** The shared half of the Nottingham Music Database in order of files; null where it is absent. */
export const nottinghamTunes = (): readonly Score[] | null => {
  if (!existsSync(FOLDER)) return null;
  return readdirSync(FOLDER)
    .filter((name) => name.endsWith('.abc'))
    .sort()
    .flatMap((name) => readAbc(readFileSync(new URL(name, FOLDER), 'utf8')).tunes)
    .map((tune) => tune.score);
};
