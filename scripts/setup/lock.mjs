import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';

/** How often a waiting run looks whether the lock is free, in milliseconds. */
const LOOK_EVERY = 100;
/** What renaming a folder onto one that is there says, on Linux, macOS and Windows. */
const TAKEN = new Set(['EEXIST', 'ENOTEMPTY', 'EPERM', 'EACCES']);

/**
 * Does work while holding a lock folder; a second run waits for the first.
 *
 * The folder is prepared beside and renamed into place, so it never stands there without its owner's process number.
 * A lock whose owner has died is taken over.
 * @param {string} folder - the lock
 * @param {() => void} onWait - told once, when somebody else holds it
 * @param {() => Promise<T>} work
 * @returns {Promise<T>}
 * @template T
 */
export const withLock = async (folder, onWait, work) => {
  let waited = false;
  while (!take(folder)) {
    if (breakStale(folder)) continue;
    if (!waited) onWait();
    waited = true;
    await pause(LOOK_EVERY);
  }
  try {
    return await work();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

const take = (folder) => {
  const prepared = `${folder}.${process.pid}`;
  rmSync(prepared, { recursive: true, force: true });
  mkdirSync(prepared);
  writeFileSync(join(prepared, 'pid'), String(process.pid));
  try {
    renameSync(prepared, folder);
    return true;
  } catch (error) {
    rmSync(prepared, { recursive: true, force: true });
    if (TAKEN.has(error.code)) return false;
    throw error;
  }
};

const ownerOf = (folder) => {
  try {
    return Number(readFileSync(join(folder, 'pid'), 'utf8'));
  } catch {
    return null;
  }
};

const isAlive = (pid) => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
};

/** Removes the lock of a dead owner; true when the lock may be tried again at once. */
const breakStale = (folder) => {
  const owner = ownerOf(folder);
  if (owner === null || isAlive(owner)) return false;
  const aside = `${folder}.${process.pid}.stale`;
  try {
    renameSync(folder, aside);
  } catch {
    return true; // another waiting run was faster
  }
  if (ownerOf(aside) === owner) {
    rmSync(aside, { recursive: true, force: true });
    return true;
  }
  // Between the look and the rename a living run took the lock: give it back.
  try {
    renameSync(aside, folder);
  } catch {
    rmSync(aside, { recursive: true, force: true });
  }
  return false;
};
