import { lstat, readdir, readFile, realpath } from 'node:fs/promises';
import { join, resolve, sep } from 'node:path';
import { exists, tidyAbandoned } from './abandoned.ts';
import { codeOf, worldError } from './worldError.ts';

/** Name of the file that marks a folder as made by us. */
export const MANIFEST_FILE = 'manifest.json';

/** What stands at a target path now, and so what may be done with it. */
export type Target =
  | { readonly kind: 'free' }
  | { readonly kind: 'ours'; readonly manifest: unknown }
  | { readonly kind: 'refused'; readonly message: string };

/** Where a target really lies: a link to a folder stands for that folder, so the link stays and its goal is replaced. */
export const realTarget = async (path: string): Promise<string> => {
  try {
    return await realpath(path);
  } catch {
    return resolve(path);
  }
};

const readJson = async (path: string): Promise<unknown> => {
  try {
    return JSON.parse(await readFile(path, 'utf8'));
  } catch {
    return undefined;
  }
};

const refused = (message: string): Target => ({ kind: 'refused', message });

const isLink = async (path: string): Promise<boolean> =>
  lstat(path).then(
    (about) => about.isSymbolicLink(),
    () => false,
  );

/** A shell that stands in a folder which is swapped for a new one is left in a folder that is gone. */
const holdsWorkingFolder = async (final: string): Promise<boolean> => {
  const here = await realTarget(process.cwd());
  return here === final || here.startsWith(final.endsWith(sep) ? final : `${final}${sep}`);
};

const strangers = (names: readonly string[]): string =>
  names.length === 1 ? `"${names[0]}"` : `${names.length} files or folders`;

/**
 * May a folder be made or replaced here?
 *
 * A missing or empty folder is free; one whose manifest.json names `format` is ours; anything else is somebody's. A
 * folder that a killed build had moved aside is put back first.
 * @throws WorldError when nobody can tell, because the place may not be read
 */
export const inspectTarget = async (path: string, format: string): Promise<Target> => {
  const final = await realTarget(path);
  let names: string[];
  try {
    await tidyAbandoned(final);
    names = await readdir(final);
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ELOOP' || (code === 'ENOENT' && (await isLink(final))))
      return refused('that is a link which leads nowhere. Choose another folder.');
    if (code === 'ENOENT') return { kind: 'free' };
    if (code === 'ENOTDIR' && (await exists(final)))
      return refused('there is a file of that name. Choose another folder.');
    throw worldError(`cannot look into ${path}`, error);
  }
  if (await holdsWorkingFolder(final))
    return refused(
      'that is the folder from which you started the command, or one around it. Choose a new folder inside it, as in --out pack.',
    );
  if (names.length === 0) return { kind: 'free' };
  const manifest = names.includes(MANIFEST_FILE) ? await readJson(join(final, MANIFEST_FILE)) : undefined;
  const found =
    typeof manifest === 'object' && manifest !== null && 'format' in manifest ? manifest.format : undefined;
  if (found === format) return { kind: 'ours', manifest };
  return refused(
    `the folder holds ${strangers(names)} that this command did not put there. Choose an empty or a new folder.`,
  );
};
