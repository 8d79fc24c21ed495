import type { LessonSettings, TrackChoice } from '../lesson/index.ts';
import { type ReadTune, readAbc, tuneAlone } from '../notation/index.ts';

/** What a worker needs to work a lesson out for itself. */
export interface PackSource {
  /** The text of one tune, with what stands before the first tune of its file. */
  readonly abc: string;
  readonly settings: LessonSettings;
  readonly tracks: TrackChoice;
  /** The teacher has given no date: the settings' is today's, and another day alone makes no part out of date. */
  readonly undated?: boolean;
}

/**
 * What to pack of a file with one or many tunes.
 * @param text - the whole file
 * @param tune - one of its tunes; the file's own header goes with it
 */
export const sourceOf = (
  text: string,
  tune: ReadTune,
  settings: LessonSettings,
  tracks: TrackChoice,
): PackSource => ({ abc: tuneAlone(text, readAbc(text), tune), settings, tracks });

/**
 * The tune of a source.
 * @throws RangeError when there is none (a caller's bug: `sourceOf` makes no such source)
 */
export const tuneOf = (source: PackSource): ReadTune => {
  const [tune] = readAbc(source.abc).tunes;
  if (tune === undefined) throw new RangeError('the source of the pack holds no tune');
  return tune;
};
