import { join } from 'node:path';
import { type Lesson, type LessonSettings, lessonOf } from '../lesson/index.ts';
import { readLessonFile } from '../lessonfile/index.ts';
import { readAbc } from '../notation/index.ts';
import { type PackSource, sourceOf } from '../pack/index.ts';
import type { LessonTexts } from '../shelf/index.ts';
import { standingFor } from './standingWords.ts';

/** A lesson worked out from its texts, or in a sentence why it cannot be. */
export type WorkedOut =
  | { readonly kind: 'lesson'; readonly lesson: Lesson; readonly source: PackSource }
  | { readonly kind: 'problem'; readonly message: string };

const settingsOf = async (
  text: string,
  folder: string,
  today: string,
): Promise<{ readonly settings: LessonSettings; readonly undated: boolean } | string> => {
  const read = readLessonFile(text);
  if (read.kind === 'problem') {
    const [first] = read.problems;
    return `lesson.json, line ${first?.line ?? 1}: ${first?.message ?? 'it cannot be read.'}`;
  }
  const words = await standingFor([join(folder, '..'), folder]);
  const settings = {
    ...read.settings,
    ...words,
    names: { ...words.names, ...read.names },
    // Recordings are named from the lesson's folder.
    recordings: read.settings.recordings.map((r) => ({ ...r, file: join(folder, r.file) })),
    date: read.settings.date ?? today,
  };
  return { settings, undated: read.settings.date === null };
};

/**
 * Works out a lesson of the shelf.
 * @param today - the sheets' date where the lesson gives none
 */
export const lessonOnShelf = async (
  { abc, settings: text }: LessonTexts,
  folder: string,
  today: string,
): Promise<WorkedOut> => {
  const read = await settingsOf(text, folder, today);
  if (typeof read === 'string') return { kind: 'problem', message: read };
  const { settings, undated } = read;
  const [tune] = readAbc(abc).tunes;
  if (tune === undefined) return { kind: 'problem', message: 'tune.abc holds no tune.' };
  const wrong = tune.diagnostics.find(({ severity }) => severity === 'error');
  if (wrong !== undefined)
    return {
      kind: 'problem',
      message: `The tune has an error that must be mended first: ${wrong.message}`,
    };
  return {
    kind: 'lesson',
    lesson: lessonOf(tune.score, settings),
    source: { ...sourceOf(abc, tune, settings, 'default'), undated },
  };
};
