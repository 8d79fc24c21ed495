import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { DEFAULT_SETTINGS, type LessonSettings } from '../lesson/index.ts';
import { readLessonFile } from '../lessonfile/index.ts';
import { readTextFile } from '../store/index.ts';
import { complain, type Io } from './io.ts';
import { today } from './packOptions.ts';
import { pathFrom, readTunes, type TuneFile } from './readTunes.ts';
import { standingWordsFor } from './standingWords.ts';

/** What a command works on: a tune's file, and what is stored beside it. */
export interface Source {
  readonly file: TuneFile;
  /** Defaults, where there is no lesson.json. */
  readonly stored: LessonSettings;
  /** Whether their date is the teacher's, and not today's for want of one. */
  readonly dated: boolean;
  /** lesson.json as it is; null for a bare ABC file. */
  readonly lessonFile: { readonly name: string; readonly text: string } | null;
}

const isFolder = async (path: string): Promise<boolean> => {
  try {
    return (await stat(path)).isDirectory();
  } catch {
    return false;
  }
};

/**
 * Opens a lesson folder or a bare ABC file.
 * @returns null after a complaint that lesson.json is missing or wrong
 */
export const openSource = async (name: string, io: Io): Promise<Source | null> => {
  const bare: LessonSettings = { ...DEFAULT_SETTINGS, date: today(io) };
  if (!(await isFolder(pathFrom(io, name))))
    return { file: await readTunes(name, io), stored: bare, dated: false, lessonFile: null };
  const lessonName = join(name, 'lesson.json');
  const text = await readTextFile(pathFrom(io, lessonName));
  if (text.kind === 'problem') {
    complain(io, `${lessonName}:1:1: ${text.message} A lesson is a folder with lesson.json and tune.abc.`);
    return null;
  }
  const read = readLessonFile(text.text);
  if (read.kind === 'problem') {
    for (const { line, column, message } of read.problems)
      complain(io, `${lessonName}:${line}:${column}: ${message}`);
    return null;
  }
  // Recordings are named from the lesson's folder.
  const recordings = read.settings.recordings.map((r) => ({ ...r, file: join(pathFrom(io, name), r.file) }));
  const words = await standingWordsFor(name, io);
  if (words === null) return null;
  return {
    file: await readTunes(join(name, 'tune.abc'), io),
    stored: {
      ...read.settings,
      ...words,
      names: { ...words.names, ...read.names },
      recordings,
      date: read.settings.date ?? bare.date,
    },
    dated: read.settings.date !== null,
    lessonFile: { name: lessonName, text: text.text },
  };
};
