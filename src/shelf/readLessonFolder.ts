import { join } from 'node:path';
import { readLessonFile } from '../lessonfile/index.ts';
import { readAbc } from '../notation/index.ts';
import { notesOf } from '../score/index.ts';
import { codeOf, reasonOf, textIn } from '../store/index.ts';
import { type LessonTexts, NEW_SETTINGS, TEXT_NAMES } from './lessonTexts.ts';
import type { ShelfFiles } from './shelfFiles.ts';

/** The largest text that is read, in bytes. Ours: a tune has a few thousand. */
const LARGEST_TEXT = 2_000_000;

/** A lesson's texts as far as they can be read, and what is wrong with the files. */
export interface LessonFolder {
  readonly texts: LessonTexts;
  /** Sentences; none: the lesson is whole. */
  readonly problems: readonly string[];
  /** Whether the texts are all that the files hold; where not, the files must be kept before anything is written. */
  readonly lossless: boolean;
}

/** One file: its text as far as it can be read. */
interface ReadText {
  readonly text: string;
  readonly problem: string | null;
  readonly lossless: boolean;
}

const CHARSET = /^(%%abc-charset\s+)\S+/gm;

const isUtf8 = (bytes: Uint8Array): boolean => {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
};

const readText = async (path: string, name: string, files: ShelfFiles): Promise<ReadText | null> => {
  try {
    const about = await files.about(path);
    if (about === null) return null;
    if (about.kind !== 'file')
      return { text: '', problem: `${name} is no file but a link or a folder.`, lossless: false };
    if (about.size > LARGEST_TEXT) {
      const size = (about.size / 1e6).toFixed(1);
      return {
        text: '',
        problem: `${name} has ${size} MB; at most ${LARGEST_TEXT / 1e6} MB are read.`,
        lossless: false,
      };
    }
    const bytes = await files.read(path);
    const read = textIn(bytes);
    if (read.kind === 'problem') {
      const text = new TextDecoder('utf-8').decode(bytes.filter((byte) => byte !== 0));
      return { text, problem: `${name}: ${read.message}`, lossless: false };
    }
    // From now on the text is UTF-8, and must not say otherwise.
    const text = isUtf8(bytes) ? read.text : read.text.replace(CHARSET, '$1utf-8');
    return { text, problem: null, lossless: true };
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return null;
    return { text: '', problem: `${name} cannot be read: ${reasonOf(error)}.`, lossless: false };
  }
};

/** What is wrong with a tune's text in a sentence; null where a lesson can be made of it. */
const tuneProblem = (abc: string): string | null => {
  const [tune] = readAbc(abc).tunes;
  if (tune === undefined) return 'tune.abc holds no tune: no line begins with X:.';
  return notesOf(tune.score).length === 0 ? 'The tune in tune.abc has no notes.' : null;
};

/** What is wrong with lesson.json, in sentences. */
const settingsProblems = (settings: string): readonly string[] => {
  const read = readLessonFile(settings);
  return read.kind === 'lesson'
    ? []
    : read.problems.map(({ line, message }) => `lesson.json, line ${line}: ${message}`);
};

/** Reads a lesson's files without looking at what their texts say. */
export const readLessonTexts = async (folder: string, files: ShelfFiles): Promise<LessonFolder> => {
  const abc = await readText(join(folder, TEXT_NAMES.abc), TEXT_NAMES.abc, files);
  const settings = await readText(join(folder, TEXT_NAMES.settings), TEXT_NAMES.settings, files);
  const problems = [abc === null ? 'tune.abc is missing.' : abc.problem, settings?.problem ?? null];
  return {
    texts: { abc: abc?.text ?? '', settings: settings?.text ?? NEW_SETTINGS },
    problems: problems.filter((problem) => problem !== null),
    lossless: (abc?.lossless ?? true) && (settings?.lossless ?? true),
  };
};

/**
 * Reads a lesson's texts. Never throws: what cannot be read is a problem in words, and the rest is given.
 *
 * Without lesson.json the lesson is one about which nothing is decided yet.
 */
export const readLessonFolder = async (folder: string, files: ShelfFiles): Promise<LessonFolder> => {
  const lesson = await readLessonTexts(folder, files);
  const { texts, problems } = lesson;
  const inTune = problems.some((problem) => problem.startsWith(TEXT_NAMES.abc))
    ? null
    : tuneProblem(texts.abc);
  const inSettings = problems.some((problem) => problem.startsWith(TEXT_NAMES.settings))
    ? []
    : settingsProblems(texts.settings);
  return { ...lesson, problems: [...(inTune === null ? [] : [inTune]), ...problems, ...inSettings] };
};
