import { randomBytes } from 'node:crypto';
import { join } from 'node:path';
import { slugOf } from '../lesson/index.ts';
import { withSettings } from '../lessonfile/index.ts';
import { readAbc, tuneAlone } from '../notation/index.ts';
import { notesOf, titleOf } from '../score/index.ts';
import { worldError } from '../store/index.ts';
import { saveTexts } from './journal.ts';
import { type LessonTexts, NEW_SETTINGS } from './lessonTexts.ts';
import type { ShelfFiles } from './shelfFiles.ts';

/** Lessons' texts made of some tunes of a file, or in a sentence why not. */
export type TunesChosen =
  | { readonly kind: 'texts'; readonly texts: readonly LessonTexts[] }
  | { readonly kind: 'problem'; readonly message: string };

/** Lessons to be made of some tunes of a text. */
export interface NewLessons {
  readonly abc: string;
  /** Places among its tunes, from 0. */
  readonly tunes: readonly number[];
  /** Stands at the foot of their sheets; empty: no name. */
  readonly teacher: string;
}

/** lesson.json of a new lesson. */
const settingsOf = (teacher: string): string => {
  const changed = withSettings(NEW_SETTINGS, { teacher: teacher.trim() });
  return changed.kind === 'problem' ? NEW_SETTINGS : changed.text;
};

/** The texts of new lessons: each tune alone with its file's header. */
export const textsOfTunes = ({ abc, tunes: chosen, teacher }: NewLessons): TunesChosen => {
  const book = readAbc(abc);
  const settings = settingsOf(teacher);
  const texts: LessonTexts[] = [];
  for (const place of chosen) {
    const tune = book.tunes[place];
    if (tune === undefined)
      return {
        kind: 'problem',
        message: `There is no tune number ${place + 1} in this text; it has ${book.tunes.length}.`,
      };
    if (notesOf(tune.score).length === 0)
      return { kind: 'problem', message: `"${titleOf(tune.score)}" has no notes, so it cannot be a lesson.` };
    texts.push({ abc: tuneAlone(abc, book, tune), settings });
  }
  return { kind: 'texts', texts };
};

/** What a lesson's folder is called by its tune's title. */
const folderNameOf = (abc: string): string => {
  const score = readAbc(abc).tunes[0]?.score;
  return slugOf(score === undefined ? '' : titleOf(score));
};

/** The first of "name", "name-2", "name-3" that nothing has. */
export const freeName = async (shelf: string, name: string, files: ShelfFiles): Promise<string> => {
  for (let n = 1; ; n += 1) {
    const free = n === 1 ? name : `${name}-${n}`;
    if ((await files.about(join(shelf, free))) === null) return free;
  }
};

/** A name for a folder that is being made: nobody takes it for a lesson. */
const makingName = (): string => `.making-${process.pid}-${randomBytes(4).toString('hex')}`;

/**
 * Puts a new lesson on the shelf, whole or not at all.
 * @returns its id
 * @throws WorldError with the reason in words
 */
export const addLesson = async (shelf: string, texts: LessonTexts, files: ShelfFiles): Promise<string> => {
  const making = join(shelf, makingName());
  try {
    await files.makeFolder(making);
    await saveTexts(making, null, texts, files);
    const id = await freeName(shelf, folderNameOf(texts.abc), files);
    await files.rename(making, join(shelf, id));
    await files.settle(shelf);
    return id;
  } catch (error) {
    await files.remove(making).catch(() => undefined);
    throw worldError('the lesson could not be put on the shelf', error);
  }
};

/** The first title that a text names; empty where it names none. */
export const firstTitleIn = (abc: string): string => /^T:[ \t]*(.*?)[ \t]*\r?$/m.exec(abc)?.[1] ?? '';

/** A title as a line of a tune: on one line, with the signs that mean something else set apart. */
const asField = (title: string): string =>
  title
    .replace(/\s+/g, ' ')
    .trim()
    .replace(/[\\&%]/g, (sign) => `\\${sign}`);

/**
 * A tune's text with another title: its first `T:` line is changed, or one is put behind `X:`.
 * @returns null where there is no tune
 */
export const withTitle = (abc: string, title: string): string | null => {
  const start = abc.search(/^X:/m);
  if (start === -1) return null;
  const end = abc.slice(start).search(/\r?\n[ \t]*\r?\n/);
  const tune = end === -1 ? abc.slice(start) : abc.slice(start, start + end);
  const rest = abc.slice(start + tune.length);
  const line = `T:${asField(title)}`;
  // Read as a function: "$" in a title is no sign of a replacement.
  const titled = /^T:.*$/m.test(tune)
    ? tune.replace(/^T:[^\r\n]*/m, () => line)
    : tune.replace(/^(X:[^\r\n]*)(\r?\n|$)/m, (_, first: string, end: string) => {
        const lineEnd = end === '' ? '\n' : end;
        return `${first}${lineEnd}${line}${lineEnd}`;
      });
  return abc.slice(0, start) + titled + rest;
};
