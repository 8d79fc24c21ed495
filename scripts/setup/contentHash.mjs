import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';

/** All files under a folder, sorted, as paths relative to it with forward slashes. Empty when it doesn't exist. */
export const filesUnder = (folder) =>
  existsSync(folder)
    ? readdirSync(folder, { recursive: true })
        .map((name) => String(name).replaceAll('\\', '/'))
        .filter((name) => statSync(join(folder, name), { throwIfNoEntry: false })?.isFile())
        .sort()
    : [];

/**
 * One hash over the names and contents of files; equal hash, equal content.
 * @param {string} root - the names are relative to it
 * @param {string[]} names - files; one that doesn't exist counts as absent
 */
export const contentHash = (root, names) => {
  const hash = createHash('sha256');
  for (const name of names) {
    const path = join(root, name);
    if (!existsSync(path)) continue;
    hash.update(`${name}\0`).update(readFileSync(path)).update('\0');
  }
  return hash.digest('hex');
};
