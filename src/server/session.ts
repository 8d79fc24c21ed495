import { randomBytes, timingSafeEqual } from 'node:crypto';
import { chmod, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { writeWhole } from '../store/index.ts';

/** Where a shelf's key is kept, for its owner's eyes: a page that is open when the program is started again goes on. */
const KEY_FILE = '.key';
const KEY = /^[0-9a-f]{48}$/;
/** A key is used for so long, in milliseconds. Ours. */
const KEY_AGE = 30 * 24 * 3_600_000;

const newKey = (): string => randomBytes(24).toString('hex');

const storedKey = async (path: string, now: Date): Promise<string | null> => {
  try {
    const about = await stat(path);
    const key = await readFile(path, 'utf8');
    const mine = process.platform === 'win32' || (about.mode & 0o077) === 0;
    const usable = about.isFile() && mine && now.getTime() - about.mtimeMs < KEY_AGE;
    return usable && KEY.test(key) ? key : null;
  } catch {
    return null;
  }
};

/** The key that opens the workbench of a shelf; a new one where none is stored, it is old, or others could read it. */
export const keyOfShelf = async (shelf: string, now: Date): Promise<string> => {
  const path = join(shelf, KEY_FILE);
  const stored = await storedKey(path, now);
  if (stored !== null) return stored;
  const key = newKey();
  try {
    await writeWhole(path, key);
    await chmod(path, 0o600);
  } catch {
    // On a shelf that cannot be written the key holds as long as the program runs.
  }
  return key;
};

/** Whether two keys are the same, in a time that tells nothing. */
export const isSameKey = (given: string, key: string): boolean => {
  const [one, other] = [Buffer.from(given), Buffer.from(key)];
  return one.length === other.length && timingSafeEqual(one, other);
};
