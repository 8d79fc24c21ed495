import { cp, lstat, mkdir, readdir, readFile } from 'node:fs/promises';
import { dirname, join, posix } from 'node:path';

/** A file of somebody's own whose name the new folder needs for itself. Paths relative to the folder. */
export interface KeptFile {
  readonly path: string;
  readonly keptAs: string;
}

/** Files and empty folders under a folder, as relative paths with "/". */
const contentOf = async (folder: string, prefix = ''): Promise<readonly string[]> => {
  const found: string[] = [];
  for (const entry of await readdir(join(folder, prefix), { withFileTypes: true })) {
    const path = posix.join(prefix, entry.name);
    const inside = entry.isDirectory() ? await contentOf(folder, path) : [];
    if (inside.length === 0) found.push(path);
    else found.push(...inside);
  }
  return found;
};

const standsAt = async (path: string): Promise<boolean> =>
  lstat(path).then(
    () => true,
    () => false,
  );

const isSame = async (one: string, other: string): Promise<boolean> => {
  try {
    const [a, b] = await Promise.all([readFile(one), readFile(other)]);
    return a.equals(b);
  } catch {
    return false;
  }
};

/** "tune (kept).abc", "tune (kept 2).abc": the first that is free in both folders. */
const freeName = async (path: string, folders: readonly string[]): Promise<string> => {
  const { dir, name, ext } = posix.parse(path);
  for (let n = 1; ; n += 1) {
    const other = posix.join(dir, `${name} (kept${n === 1 ? '' : ` ${n}`})${ext}`);
    const taken = await Promise.all(folders.map((folder) => standsAt(join(folder, other))));
    if (!taken.includes(true)) return other;
  }
};

/**
 * Copies what is not ours from the old folder into the new one; nothing in either is overwritten.
 * @param isOurs - whether a path was made by the program and may go with the old folder
 * @returns the files that had to take another name
 */
export const carryOver = async (
  from: string,
  to: string,
  isOurs: (path: string) => boolean,
): Promise<readonly KeptFile[]> => {
  const kept: KeptFile[] = [];
  for (const path of await contentOf(from)) {
    if (isOurs(path)) continue;
    let target = path;
    if (await standsAt(join(to, path))) {
      if ((await lstat(join(from, path))).isDirectory() || (await isSame(join(from, path), join(to, path))))
        continue;
      target = await freeName(path, [from, to]);
      kept.push({ path, keptAs: target });
    }
    await mkdir(dirname(join(to, target)), { recursive: true });
    await cp(join(from, path), join(to, target), {
      recursive: true,
      force: false,
      errorOnExist: true,
      preserveTimestamps: true,
      verbatimSymlinks: true,
    });
  }
  return kept;
};
