import { join } from 'node:path';
import { worldError } from '../store/index.ts';
import { markOf } from './checkpoints.ts';
import { freeName } from './makeLessons.ts';
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
