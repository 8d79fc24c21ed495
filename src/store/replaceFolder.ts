import { randomBytes } from 'node:crypto';
import { cp, mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { codeOf, WorldError, worldError } from './worldError.ts';

/** Name of the file that marks a folder as made by us. */
export const MANIFEST_FILE = 'manifest.json';

/** What stands at a target path now, and so what may be done with it. */
export type Target =
  | { readonly kind: 'free' }
  | { readonly kind: 'ours'; readonly manifest: unknown }
  | { readonly kind: 'refused'; readonly message: string };

const STAGING = '.building-';

/**
 * May a folder be made or replaced here?
 *
 * A missing or empty folder is free; one whose manifest.json names `format` is ours; anything else is somebody's.
 */
export const inspectTarget = async (path: string, format: string): Promise<Target> => {
  let names: string[];
  try {
    names = await readdir(path);
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ENOENT') return { kind: 'free' };
    if (code === 'ENOTDIR' && (await exists(path))) {
      return { kind: 'refused', message: 'there is a file of that name. Choose another folder.' };
    }
    throw worldError(`cannot look into ${path}`, error);
  }
  if (names.length === 0) return { kind: 'free' };
  const manifest = names.includes(MANIFEST_FILE) ? await readJson(join(path, MANIFEST_FILE)) : undefined;
  const format_ =
    typeof manifest === 'object' && manifest !== null && 'format' in manifest ? manifest.format : undefined;
  if (format_ === format) return { kind: 'ours', manifest };
  return {
    kind: 'refused',
    message: `the folder holds ${names.length === 1 ? `"${names[0]}"` : `${names.length} files or folders`} that this program did not put there. Choose an empty or a new folder.`,
  };
};

const readJson = async (path: string): Promise<unknown> => {
  try {
    return JSON.parse(await readFile(path, 'utf8'));
  } catch {
    return undefined;
  }
};

const isAlive = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return codeOf(error) === 'EPERM';
  }
};

/** Removes what a build that was killed left beside the target. */
const clearDead = async (parent: string, name: string): Promise<void> => {
  for (const entry of await readdir(parent)) {
    const match = entry.startsWith(`.${name}${STAGING}`) ? /-(\d+)-[0-9a-f]+$/.exec(entry) : null;
    if (match !== null && !isAlive(Number(match[1])))
      await rm(join(parent, entry), { recursive: true, force: true });
  }
};

/** A folder being made beside its target; nothing of the target changes before `land`. */
export interface Staging {
  /** Where to write. */
  readonly path: string;
  /** Puts the new folder in the target's place; files there that `isOurs` does not know are carried over. */
  readonly land: (isOurs: (relativePath: string) => boolean) => Promise<void>;
  /** Throws everything away; the target stays as it was. Harmless after `land`. */
  readonly discard: () => Promise<void>;
}

const filesUnder = async (folder: string, prefix = ''): Promise<readonly string[]> => {
  const found: string[] = [];
  for (const entry of await readdir(join(folder, prefix), { withFileTypes: true })) {
    const path = prefix === '' ? entry.name : `${prefix}/${entry.name}`;
    if (entry.isDirectory()) found.push(...(await filesUnder(folder, path)));
    else found.push(path);
  }
  return found;
};

const carryOver = async (from: string, to: string, isOurs: (path: string) => boolean): Promise<void> => {
  for (const path of await filesUnder(from)) {
    if (isOurs(path)) continue;
    await mkdir(dirname(join(to, path)), { recursive: true });
    await cp(join(from, path), join(to, path), { errorOnExist: false, force: false });
  }
};

const exists = async (path: string): Promise<boolean> => {
  try {
    await stat(path);
    return true;
  } catch {
    return false;
  }
};

/**
 * Begins to make a folder that will stand at `target`.
 * @param target - the folder's final path; its parents are made where missing
 * @throws WorldError when the place cannot be written
 */
export const stageFolder = async (target: string): Promise<Staging> => {
  const final = resolve(target);
  const parent = dirname(final);
  const name = basename(final);
  const stamp = `${process.pid}-${randomBytes(4).toString('hex')}`;
  const path = join(parent, `.${name}${STAGING}${stamp}`);
  const former = join(parent, `.${name}${STAGING}former-${stamp}`);
  try {
    await mkdir(parent, { recursive: true });
    await clearDead(parent, name);
    await mkdir(path);
  } catch (error) {
    throw worldError(`cannot make ${final}`, error);
  }
  const discard = async (): Promise<void> => {
    await rm(path, { recursive: true, force: true });
  };
  const land = async (isOurs: (relativePath: string) => boolean): Promise<void> => {
    try {
      const replaces = await exists(final);
      if (replaces) {
        await carryOver(final, path, isOurs);
        await rename(final, former);
      }
      try {
        await rename(path, final);
      } catch (error) {
        if (replaces) await rename(former, final);
        throw error;
      }
      await rm(former, { recursive: true, force: true });
    } catch (error) {
      await discard();
      throw error instanceof WorldError ? error : worldError(`cannot put the new folder at ${final}`, error);
    }
  };
  return { path, land, discard };
};

/**
 * Writes a file so that after a power cut it is whole or absent.
 * @param bytes - text is written as UTF-8
 * @throws WorldError when it cannot be written
 */
export const writeWhole = async (path: string, bytes: Uint8Array | string): Promise<void> => {
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
    throw worldError(`cannot write ${path}`, error);
  }
};
