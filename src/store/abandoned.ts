import { readdir, rename, rm, stat } from 'node:fs/promises';
import { uptime } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { codeOf } from './worldError.ts';

/** Where a folder is made and where the one it replaces waits meanwhile: hidden, beside the target, one stamp each. */
export interface SideFolders {
  /** The new folder until it lands. */
  readonly made: string;
  /** The old one between the two renames of landing, and until it is removed. */
  readonly former: string;
}

/**
 * The side folders of one build.
 * @param final - the target's real path
 * @param stamp - "<process id>-<random hexadecimal digits>"
 */
export const sideFolders = (final: string, stamp: string): SideFolders => {
  const side = join(dirname(final), `.${basename(final)}.building-`);
  return { made: `${side}${stamp}`, former: `${side}former-${stamp}` };
};

/** Does anything stand at this path? Links are followed. */
export const exists = async (path: string): Promise<boolean> => {
  try {
    await stat(path);
    return true;
  } catch {
    return false;
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

/** Whether the build that owns a side folder is over: its process is gone, or the machine was started since (numbers come again). */
const isAbandoned = async (path: string, pid: number): Promise<boolean> => {
  if (!isAlive(pid)) return true;
  const started = Date.now() - uptime() * 1000;
  return stat(path).then(
    (about) => about.ctimeMs < started,
    () => false,
  );
};

const abandonedStamps = async (final: string): Promise<readonly string[]> => {
  const parent = dirname(final);
  const start = `.${basename(final)}.building-`;
  const names = await readdir(parent).catch((): string[] => []);
  const stamps: string[] = [];
  for (const name of names.filter((n) => n.startsWith(start))) {
    const match = /^(?:former-)?((\d+)-[0-9a-f]+)$/.exec(name.slice(start.length));
    if (match?.[1] === undefined || stamps.includes(match[1])) continue;
    if (await isAbandoned(join(parent, name), Number(match[2]))) stamps.push(match[1]);
  }
  return stamps;
};

/**
 * Tidies up after builds that were killed: puts back a folder that one had moved aside, clears what others left.
 *
 * A new folder that is still there tells that the old one was not replaced; where something else has come to stand at
 * the target since, both are left for their owner to look at.
 * @param final - the target's real path
 */
export const tidyAbandoned = async (final: string): Promise<void> => {
  for (const stamp of await abandonedStamps(final)) {
    const { made, former } = sideFolders(final, stamp);
    if ((await exists(made)) && (await exists(former))) {
      if (await exists(final)) continue;
      await rename(former, final);
    }
    for (const leftover of [former, made])
      await rm(leftover, { recursive: true, force: true }).catch(() => undefined);
  }
};
