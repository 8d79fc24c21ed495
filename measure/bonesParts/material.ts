import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { danceOfScore, difficultyOf } from '../../src/fiddle/index.ts';
import { readAbc } from '../../src/notation/index.ts';
import { notesOf, type Score } from '../../src/score/index.ts';
import { bonesOf, plainOf } from '../../src/versions/index.ts';
import { mechanicallyThinned, type SoundedBar, sounded } from './sounded.ts';

/** A tune of the corpora with its versions, as they sound. */
export interface Measured {
  readonly score: Score;
  readonly plain: readonly SoundedBar[];
  readonly bones: readonly SoundedBar[];
  readonly thinned: readonly SoundedBar[];
  /** Whether the bones are less work than the plain version at one tempo, by the scale of difficulty. */
  readonly lessWork: boolean;
}

/** The shared half of O'Neill 1903. */
export const ONEILL = 'oneill-1903-odd';

/** All tunes of the shared corpora, or of some of them, that have a note; null where they are absent. */
export const corpusTunes = (
  corpora: readonly string[] = [ONEILL, 'nottingham-odd'],
): readonly Score[] | null => {
  const folder = new URL('../../../shared/data/corpora/', import.meta.url);
  if (!existsSync(folder)) return null;
  return corpora
    .flatMap((name) => {
      const inside = new URL(`${name}/`, folder);
      const files = readdirSync(inside).filter((file) => file.endsWith('.abc'));
      return files.flatMap((file) => readAbc(readFileSync(new URL(file, inside), 'utf8')).tunes);
    })
    .map((tune) => tune.score)
    .filter((score) => notesOf(score).length > 0);
};

/** A tune's plain version and bones, and the plain version thinned mechanically. */
export const measured = (score: Score): Measured => {
  const plain = plainOf(score);
  const heard = sounded(plain);
  const bones = bonesOf(plain);
  const dance = danceOfScore(score);
  const lessWork = difficultyOf(bones, { dance }).work < difficultyOf(plain, { dance }).work;
  return { score, plain: heard, bones: sounded(bones), thinned: mechanicallyThinned(heard), lessWork };
};
