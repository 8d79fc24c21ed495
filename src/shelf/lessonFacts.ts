import { difficultyOf, ornamentsOf } from '../fiddle/index.ts';
import { DEFAULT_SETTINGS, fullestOf, lessonOf, versionNamesOf } from '../lesson/index.ts';
import { readLessonFile } from '../lessonfile/index.ts';
import { danceOf, keyName, midiOf } from '../music/index.ts';
import { readAbc } from '../notation/index.ts';
import { fieldsOf, notesOf, runningNoteOf, type Score } from '../score/index.ts';
import { plainOf } from '../versions/index.ts';
import type { LessonFolder } from './readLessonFolder.ts';

/** What the shelf knows of a lesson without opening it. */
export interface LessonFacts {
  readonly title: string;
  readonly otherTitles: readonly string[];
  /** "reel"; empty where nothing could be read. */
  readonly dance: string;
  /** "G major"; empty where nothing could be read. */
  readonly key: string;
  /** Names of the versions, simplest first. */
  readonly versions: readonly string[];
  /** How hard the fullest version is, in words; empty where nothing could be read. */
  readonly difficulty: string;
  /** Kinds of ornament in the tune as written. */
  readonly techniques: readonly string[];
  /** "All the notes" as midi numbers, tied notes once. */
  readonly notes: readonly number[];
  /** Why it cannot be worked on as it is; null: it is whole. */
  readonly broken: string | null;
  /** Whether all this is known, or only what the first lines of the tune say. */
  readonly complete: boolean;
}

/** No day is needed for what is worked out here. */
const ANY_DAY = '2000-01-01';

/** What the lines of a header field say: without a remark behind `%`, with the signs that were set apart for it. */
const headings = (abc: string, code: string): readonly string[] => {
  const start = Math.max(0, abc.search(/^X:/m));
  const found = abc.slice(start).matchAll(new RegExp(`^${code}:(.*)$`, 'gm'));
  return [...found].flatMap(([, line = '']) => {
    const value = line
      .replace(/(?<!\\)%.*$/, '')
      .replace(/\\([%&\\])/g, '$1')
      .trim();
    return value === '' ? [] : [value];
  });
};

/**
 * What the first lines of the tune say, at once: the rest takes longer.
 * @param id - what a lesson without a title is called
 */
export const firstFacts = ({ texts, problems }: LessonFolder, id: string): LessonFacts => {
  const [title = id, ...otherTitles] = headings(texts.abc, 'T');
  return {
    title,
    otherTitles,
    dance: headings(texts.abc, 'R')[0]?.toLowerCase() ?? '',
    key: '',
    versions: [],
    difficulty: '',
    techniques: [],
    notes: [],
    broken: problems[0] ?? null,
    complete: false,
  };
};

const soundingNotes = (score: Score): readonly number[] => {
  const notes: number[] = [];
  let held = false;
  for (const { note } of notesOf(score)) {
    if (!held) notes.push(midiOf(note.pitches[0]));
    held = note.tiedToNext;
  }
  return notes;
};

const settingsIn = (text: string) => {
  const read = readLessonFile(text);
  return { ...(read.kind === 'lesson' ? read.settings : DEFAULT_SETTINGS), date: ANY_DAY };
};

/** The fullest version, worked out only where it is not the tune as it is written. */
const fullestScore = (written: Score, settings: ReturnType<typeof settingsIn>): Score => {
  const asWritten = settings.versions.at(-1)?.kind === 'full' && settings.acceptedOrnaments.length === 0;
  return asWritten ? written : fullestOf(lessonOf(written, settings)).score;
};

const workedOut = (lesson: LessonFolder, first: LessonFacts): LessonFacts => {
  const score = readAbc(lesson.texts.abc).tunes[0]?.score;
  if (score === undefined || notesOf(score).length === 0) return { ...first, complete: true };
  const settings = settingsIn(lesson.texts.settings);
  const { dance } = danceOf(fieldsOf(score, 'R')[0], score.metre, runningNoteOf(score));
  const titles = fieldsOf(score, 'T').filter((title) => title.trim() !== '');
  return {
    title: titles[0] ?? first.title,
    otherTitles: titles.slice(1),
    dance: dance.name,
    key: keyName(score.key),
    versions: versionNamesOf(settings),
    difficulty: difficultyOf(fullestScore(score, settings), { dance }).word,
    techniques: [...new Set(ornamentsOf(score).map(({ kind }) => kind))],
    notes: soundingNotes(plainOf(score)),
    broken: first.broken,
    complete: true,
  };
};

/**
 * Everything that the shelf knows of a lesson.
 *
 * Never throws: a fault in working one lesson out must not keep the others from being listed.
 */
export const allFacts = (lesson: LessonFolder, id: string): LessonFacts => {
  const first = firstFacts(lesson, id);
  try {
    return workedOut(lesson, first);
  } catch (error) {
    const broken = first.broken ?? `The lesson cannot be worked out: ${String(error)}`;
    return { ...first, broken, complete: true };
  }
};
