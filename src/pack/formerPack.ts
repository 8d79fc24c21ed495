import { copyFile, mkdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Staging } from '../store/index.ts';
import type { FilesOnDisk } from './filesOnDisk.ts';
import type { Manifest, ManifestFile } from './manifest.ts';
import { ownerOf } from './parts.ts';
import type { FolderJob } from './workerPool.ts';

/** The pack that stands where a new one is being built. */
export interface FormerPack {
  readonly folder: string;
  readonly manifest: Manifest;
  readonly disk: FilesOnDisk;
}

/** Files of a former pack by the part that they belong to; `leftover`: of parts that the lesson has no more. */
export interface FormerFiles {
  readonly of: (id: string) => readonly ManifestFile[];
  readonly leftover: readonly ManifestFile[];
}

/** Sorts a former pack's files that are still there by parts. */
export const formerFiles = (former: FormerPack | null, jobs: readonly FolderJob[]): FormerFiles => {
  const files = (former?.manifest.files ?? []).filter(({ path }) => former?.disk.gone.has(path) !== true);
  return {
    of: (id) => files.filter((file) => ownerOf(file, jobs) === id),
    leftover: files.filter((file) => ownerOf(file, jobs) === null),
  };
};

/** Takes files of a former pack over as they are, also those that a hand has changed. */
export const takeOver = async (
  files: readonly ManifestFile[],
  folder: string,
  { path: to }: Staging,
): Promise<void> => {
  for (const { path } of files) {
    await mkdir(dirname(join(to, path)), { recursive: true });
    await copyFile(join(folder, path), join(to, path));
  }
};
