import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { type LessonSettings, USUAL_ORNAMENT_NAMES } from '../lesson/index.ts';
import { readWordsFile } from '../lessonfile/index.ts';
import { readTextFile } from '../store/index.ts';
import { complain, type Io } from './io.ts';
import { pathFrom } from './readTunes.ts';

const isThere = async (path: string): Promise<boolean> => {
  try {
    return (await stat(path)).isFile();
  } catch {
    return false;
  }
};

/**
 * A teacher's standing words for a lesson: of words.json beside the lesson's folder, for all lessons there, and of
 * words.json in it, which wins technique by technique.
 * @returns null after a complaint that one of them is wrong
 */
export const standingWordsFor = async (
  lesson: string,
  io: Io,
): Promise<Pick<LessonSettings, 'names' | 'standing'> | null> => {
  let found: Pick<LessonSettings, 'names' | 'standing'> = { names: USUAL_ORNAMENT_NAMES, standing: {} };
  for (const name of [join(lesson, '..', 'words.json'), join(lesson, 'words.json')]) {
    if (!(await isThere(pathFrom(io, name)))) continue;
    const text = await readTextFile(pathFrom(io, name));
    if (text.kind === 'problem') {
      complain(io, `${name}:1:1: ${text.message}`);
      return null;
    }
    const read = readWordsFile(text.text);
    if (read.kind === 'problem') {
      for (const { line, column, message } of read.problems)
        complain(io, `${name}:${line}:${column}: ${message}`);
      return null;
    }
    found = {
      names: { ...found.names, ...read.names },
      standing: { ...found.standing, ...read.standing },
    };
  }
  return found;
};
