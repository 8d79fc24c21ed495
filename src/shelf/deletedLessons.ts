import { join } from 'node:path';
import { worldError } from '../store/index.ts';
import { markOf, whenOf } from './checkpoints.ts';
import { TEXT_NAMES } from './lessonTexts.ts';
import { firstTitleIn, freeName } from './makeLessons.ts';
import { bringBackSet } from './setsOnShelf.ts';
import type { ShelfFiles } from './shelfFiles.ts';
import { DELETED, DELETED_SET } from './shelfPlaces.ts';

/**
 * Puts a lesson among the deleted ones.
 * @returns the mark that brings it back
 * @throws WorldError with the reason in words
 */
export const deleteLesson = async (
  shelf: string,
  id: string,
  now: Date,
  files: ShelfFiles,
): Promise<string> => {
  try {
    await files.makeFolder(join(shelf, DELETED));
    const mark = await freeName(join(shelf, DELETED), `${markOf(now)} ${id}`, files);
    await files.rename(join(shelf, id), join(shelf, DELETED, mark));
    await files.settle(shelf);
    await files.settle(join(shelf, DELETED));
    return mark;
  } catch (error) {
    throw worldError('the lesson could not be deleted', error);
  }
};

const isSet = async (shelf: string, mark: string, files: ShelfFiles): Promise<boolean> =>
  (await files.about(join(shelf, DELETED, mark, DELETED_SET)))?.kind === 'file';

/** What was brought back. */
export interface BroughtBack {
  readonly kind: 'lesson' | 'set';
  readonly id: string;
}

/**
 * Brings a deleted lesson or set back, under its own name or the next that is free.
 * @returns null: there is nothing of that mark
 * @throws WorldError with the reason in words
 */
export const bringBackDeleted = async (
  shelf: string,
  mark: string,
  files: ShelfFiles,
): Promise<BroughtBack | null> => {
  try {
    if (!(await files.names(join(shelf, DELETED))).includes(mark)) return null;
    if (await isSet(shelf, mark, files)) return { kind: 'set', id: await bringBackSet(shelf, mark, files) };
    const id = await freeName(shelf, mark.slice(mark.indexOf(' ') + 1), files);
    await files.rename(join(shelf, DELETED, mark), join(shelf, id));
    await files.settle(shelf);
    return { kind: 'lesson', id };
  } catch (error) {
    throw worldError('it could not be brought back', error);
  }
};

/** A lesson or a set among the deleted ones. */
export interface DeletedLesson {
  readonly kind: 'lesson' | 'set';
  /** Brings it back, or throws it away. */
  readonly mark: string;
  /** The tune's or the set's title; its folder's name where there is none. */
  readonly title: string;
  readonly when: Date;
}

const markParts = (mark: string): { readonly when: Date; readonly id: string } | null => {
  const space = mark.indexOf(' ');
  const when = whenOf(mark.slice(0, Math.max(0, space)));
  return when === null ? null : { when, id: mark.slice(space + 1) };
};

const titleInSet = (text: string): string => {
  try {
    const { title } = JSON.parse(text) as { readonly title?: unknown };
    return typeof title === 'string' ? title : '';
  } catch {
    return '';
  }
};

/** One of the deleted ones; null: somebody else has put it there. */
const deletedAt = async (shelf: string, mark: string, files: ShelfFiles): Promise<DeletedLesson | null> => {
  const parts = markParts(mark);
  if (parts === null) return null;
  const kind = (await isSet(shelf, mark, files)) ? 'set' : 'lesson';
  const path = join(shelf, DELETED, mark, kind === 'set' ? DELETED_SET : TEXT_NAMES.abc);
  if ((await files.about(path))?.kind !== 'file') return null;
  const text = new TextDecoder().decode(await files.read(path));
  const title = kind === 'set' ? titleInSet(text) : firstTitleIn(text);
  return { kind, mark, title: title === '' ? parts.id : title, when: parts.when };
};

/**
 * The deleted lessons and sets, the last deleted first; what others have put into their folder is not among them.
 * @throws WorldError with the reason in words
 */
export const deletedLessons = async (shelf: string, files: ShelfFiles): Promise<readonly DeletedLesson[]> => {
  try {
    const found: DeletedLesson[] = [];
    for (const mark of await files.names(join(shelf, DELETED))) {
      const one = await deletedAt(shelf, mark, files);
      if (one !== null) found.push(one);
    }
    return found.toSorted((a, b) => b.when.getTime() - a.when.getTime());
  } catch (error) {
    throw worldError('the deleted lessons could not be listed', error);
  }
};

/**
 * Removes a deleted lesson for good, with all that is in its folder.
 * @returns false: there is nothing of that mark
 * @throws WorldError with the reason in words
 */
export const throwAwayLesson = async (shelf: string, mark: string, files: ShelfFiles): Promise<boolean> => {
  try {
    const isThere = (await files.names(join(shelf, DELETED))).includes(mark);
    if (!isThere || markParts(mark) === null) return false;
    await files.remove(join(shelf, DELETED, mark));
    return true;
  } catch (error) {
    throw worldError('the lesson could not be thrown away', error);
  }
};
