import { mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { worldError } from './worldError.ts';

/**
 * Writes a file so that after a power cut it is whole or absent.
 * @param bytes - text is written as UTF-8
 * @param shownPath - the path that a complaint names, where the file is to stand elsewhere in the end
 * @throws WorldError when it cannot be written
 */
export const writeWhole = async (
  path: string,
  bytes: Uint8Array | string,
  shownPath: string = path,
): Promise<void> => {
  const temporary = `${path}.${process.pid}.part`;
  try {
    await mkdir(dirname(path), { recursive: true });
    const file = await open(temporary, 'w');
    try {
      await file.writeFile(bytes);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true }).catch(() => undefined);
    throw worldError(`cannot write ${shownPath}`, error);
  }
};
