import { cp } from 'node:fs/promises';
import { join } from 'node:path';
import { codeOf, worldError } from '../store/index.ts';

/**
 * Copies a lesson's recordings into another lesson.
 * @throws WorldError with the reason in words
 */
export const copyRecordings = async (from: string, to: string): Promise<void> => {
  try {
    await cp(join(from, 'recordings'), join(to, 'recordings'), { recursive: true, verbatimSymlinks: true });
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw worldError('the recordings could not be copied', error);
  }
};
