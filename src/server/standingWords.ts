import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { type LessonSettings, USUAL_ORNAMENT_NAMES } from '../lesson/index.ts';
import { readWordsFile } from '../lessonfile/index.ts';
import { readTextFile } from '../store/index.ts';

/** A teacher's standing words. */
export const WORDS_FILE = 'words.json';

/** A folder's words.json as text, empty where there is none that can be read, and in sentences why it cannot. */
interface WordsText {
  readonly text: string;
  readonly problems: readonly string[];
}

/** Reads a folder's words.json. */
export const wordsTextIn = async (folder: string): Promise<WordsText> => {
  const path = join(folder, WORDS_FILE);
  if ((await stat(path).catch(() => null)) === null) return { text: '', problems: [] };
  const file = await readTextFile(path);
  if (file.kind === 'problem') return { text: '', problems: [`${WORDS_FILE}: ${file.message}`] };
  const read = readWordsFile(file.text);
  if (read.kind === 'words') return { text: file.text, problems: [] };
  return {
    text: '',
    problems: read.problems.map(({ line, message }) => `${WORDS_FILE}, line ${line}: ${message}`),
  };
};

/** The fields of words.json that are put together. */
const PARTS = ['names', 'techniques'] as const;

const together = (shelf: string, lesson: string): string => {
  const [one, other] = [JSON.parse(shelf), JSON.parse(lesson)] as Record<string, unknown>[];
  const parts = PARTS.map((part) => [part, { ...(one?.[part] ?? {}), ...(other?.[part] ?? {}) }]);
  return JSON.stringify({ ...one, ...other, ...Object.fromEntries(parts) });
};

/**
 * The standing words for a lesson as the text of one words.json: the shelf's, and the lesson's own, which win. What cannot
 * be read is left out, and said.
 * @param lesson - the lesson's folder
 */
export const wordsTextFor = async (shelf: string, lesson: string | null): Promise<WordsText> => {
  const one = await wordsTextIn(shelf);
  const other = lesson === null ? { text: '', problems: [] } : await wordsTextIn(lesson);
  const [first, second] = [one.text, other.text];
  return {
    text: first === '' || second === '' ? `${first}${second}` : together(first, second),
    problems: [...one.problems, ...other.problems],
  };
};

type Standing = Pick<LessonSettings, 'names' | 'standing'>;

/** Standing words for a lesson: the shelf's, and the lesson's own, which win. What cannot be read is left out. */
export const standingFor = async (folders: readonly string[]): Promise<Standing> => {
  let found: Standing = { names: USUAL_ORNAMENT_NAMES, standing: {} };
  for (const folder of folders) {
    const { text } = await wordsTextIn(folder);
    const read = text === '' ? null : readWordsFile(text);
    if (read?.kind !== 'words') continue;
    found = { names: { ...found.names, ...read.names }, standing: { ...found.standing, ...read.standing } };
  }
  return found;
};
