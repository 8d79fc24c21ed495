import { join } from 'node:path';
import { worldError } from '../store/index.ts';
import { markOf, whenOf } from './checkpoints.ts';
import { TEXT_NAMES } from './lessonTexts.ts';
import { firstTitleIn, freeName } from './makeLessons.ts';
import type { ShelfFiles } from './shelfFiles.ts';

/** Deleted lessons stay on the shelf, out of sight, for their owner to bring back or to throw away. */
const DELETED = '.deleted';

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

/**
 * Brings a deleted lesson back, under its own name or the next that is free.
 * @returns its id; null: there is nothing of that mark
 * @throws WorldError with the reason in words
 */
export const bringBackLesson = async (
  shelf: string,
  mark: string,
  files: ShelfFiles,
): Promise<string | null> => {
  try {
    if (!(await files.names(join(shelf, DELETED))).includes(mark)) return null;
    const id = await freeName(shelf, mark.slice(mark.indexOf(' ') + 1), files);
    await files.rename(join(shelf, DELETED, mark), join(shelf, id));
    await files.settle(shelf);
    return id;
  } catch (error) {
    throw worldError('the lesson could not be brought back', error);
  }
};

/** A lesson among the deleted ones. */
export interface DeletedLesson {
  /** Brings it back, or throws it away. */
  readonly mark: string;
  /** The tune's title; its folder's name where there is none. */
  readonly title: string;
  readonly when: Date;
}

const markParts = (mark: string): { readonly when: Date; readonly id: string } | null => {
  const space = mark.indexOf(' ');
  const when = whenOf(mark.slice(0, Math.max(0, space)));
  return when === null ? null : { when, id: mark.slice(space + 1) };
};

/**
 * The deleted lessons, the last deleted first; what others have put into their folder is not among them.
 * @throws WorldError with the reason in words
 */
export const deletedLessons = async (shelf: string, files: ShelfFiles): Promise<readonly DeletedLesson[]> => {
  try {
    const found: DeletedLesson[] = [];
    for (const mark of await files.names(join(shelf, DELETED))) {
      const parts = markParts(mark);
      const tune = join(shelf, DELETED, mark, TEXT_NAMES.abc);
      if (parts === null || (await files.about(tune))?.kind !== 'file') continue;
      const title = firstTitleIn(new TextDecoder().decode(await files.read(tune)));
      found.push({ mark, title: title === '' ? parts.id : title, when: parts.when });
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
