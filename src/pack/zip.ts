import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type Zippable, zipSync } from 'fflate';

/** Endings of files that are compressed already and are only stored. */
const COMPRESSED = ['.mp3', '.pdf', '.png', '.flac'];

/**
 * One zip of the named files.
 * @param folder - where they lie
 * @param paths - relative, in the order in which they stand in the zip
 * @param date - "2026-11-25": given to every file, so that the same files give the same bytes
 */
export const zipOf = async (folder: string, paths: readonly string[], date: string): Promise<Uint8Array> => {
  const [year = 1980, month = 1, day = 1] = date.split('-').map(Number);
  const mtime = new Date(Math.max(1980, year), month - 1, day, 12);
  const content: Zippable = {};
  for (const path of paths) {
    const level = COMPRESSED.some((ending) => path.endsWith(ending)) ? 0 : 9;
    content[path] = [new Uint8Array(await readFile(join(folder, path))), { level, mtime }];
  }
  return zipSync(content);
};
