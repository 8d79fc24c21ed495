import { join } from 'node:path';
import { type LessonSettings, USUAL_ORNAMENT_NAMES } from '../lesson/index.ts';
import { readWordsFile } from '../lessonfile/index.ts';
import { readTextFile } from '../store/index.ts';

/** A teacher's standing words. */
const WORDS_FILE = 'words.json';

/** The text of a folder's words.json; empty where there is none that can be read. */
const wordsTextIn = async (folder: string): Promise<string> => {
  const file = await readTextFile(join(folder, WORDS_FILE));
  return file.kind === 'text' ? file.text : '';
};

/** The fields of words.json that are put together. */
const PARTS = ['names', 'techniques'] as const;

const together = (shelf: string, lesson: string): string => {
  const [one, other] = [JSON.parse(shelf), JSON.parse(lesson)] as Record<string, unknown>[];
  const parts = PARTS.map((part) => [part, { ...(one?.[part] ?? {}), ...(other?.[part] ?? {}) }]);
  return JSON.stringify({ ...one, ...other, ...Object.fromEntries(parts) });
};

/**
 * The standing words for a lesson as the text of one words.json: the shelf's, and the lesson's own, which win.
 * @param lesson - the lesson's folder
 */
export const wordsTextFor = async (shelf: string, lesson: string | null): Promise<string> => {
  const [one, other] = [await wordsTextIn(shelf), lesson === null ? '' : await wordsTextIn(lesson)];
  if (one === '' || other === '') return `${one}${other}`;
  const readable = [one, other].map((text) => readWordsFile(text).kind === 'words');
  return readable.includes(false) ? one : together(one, other);
};

type Standing = Pick<LessonSettings, 'names' | 'standing'>;

/** Standing words for a lesson: the shelf's, and the lesson's own, which win. What cannot be read is left out. */
export const standingFor = async (folders: readonly string[]): Promise<Standing> => {
  let found: Standing = { names: USUAL_ORNAMENT_NAMES, standing: {} };
  for (const folder of folders) {
    const text = await wordsTextIn(folder);
    const read = text === '' ? null : readWordsFile(text);
    if (read?.kind !== 'words') continue;
    found = { names: { ...found.names, ...read.names }, standing: { ...found.standing, ...read.standing } };
  }
  return found;
};
