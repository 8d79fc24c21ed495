import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { MANIFEST_FILE } from '../store/index.ts';
import { type Manifest, readManifest } from './manifest.ts';

/** What has become of a pack's files since it was made: paths as in its manifest. */
export interface FilesOnDisk {
  /** Not there any more, or not to be read. */
  readonly gone: ReadonlySet<string>;
  /** Not as they were made: somebody's own by now. */
  readonly changed: ReadonlySet<string>;
}

/** SHA-256 in hexadecimal digits. */
export const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** Looks at every file that a manifest lists. */
export const filesOnDisk = async (folder: string, { files }: Manifest): Promise<FilesOnDisk> => {
  const gone = new Set<string>();
  const changed = new Set<string>();
  for (const { path, bytes: size, sha256: made } of files) {
    const bytes = await readFile(join(folder, path)).catch(() => null);
    if (bytes === null) gone.add(path);
    else if (bytes.length !== size || sha256(bytes) !== made) changed.add(path);
  }
  return { gone, changed };
};

/**
 * A pack that was built before.
 * @param folder - where it would lie
 * @returns its manifest and what has become of its files; null where there is no pack of ours
 */
export const inspectPack = async (
  folder: string,
): Promise<{ readonly manifest: Manifest; readonly disk: FilesOnDisk } | null> => {
  let json: unknown;
  try {
    json = JSON.parse(await readFile(join(folder, MANIFEST_FILE), 'utf8'));
  } catch {
    return null;
  }
  const manifest = readManifest(json);
  return manifest === null ? null : { manifest, disk: await filesOnDisk(folder, manifest) };
};
