import { randomBytes } from 'node:crypto';
import { mkdir, rename, rm, rmdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { exists, type SideFolders, sideFolders, tidyAbandoned } from './abandoned.ts';
import { carryOver, type KeptFile } from './carryOver.ts';
import { realTarget } from './target.ts';
import { WorldError, worldError } from './worldError.ts';
import { writeWhole } from './writeWhole.ts';

/** A folder being made beside its target; nothing of the target changes before `land`. */
export interface Staging {
  /** Where the new folder stands until it lands. */
  readonly path: string;
  /** Writes a file of the new folder, whole or not at all; a complaint names the place where it is to stand. */
  readonly write: (relativePath: string, bytes: Uint8Array | string) => Promise<void>;
  /**
   * Puts the new folder in the target's place; files there that `isOurs` does not know are carried over, under another
   * name where theirs is needed. When it fails the target stays as it was.
   */
  readonly land: (isOurs: (relativePath: string) => boolean) => Promise<readonly KeptFile[]>;
  /** Throws everything away; the target stays as it was. Harmless after `land`. */
  readonly discard: () => Promise<void>;
}

/** Swaps the folders by two renames; where the second fails the first is taken back. */
const swap = async (final: string, { made, former }: SideFolders): Promise<void> => {
  const replaces = await exists(final);
  if (replaces) await rename(final, former);
  try {
    await rename(made, final);
  } catch (error) {
    if (replaces) {
      await rename(former, final).catch((cause: unknown) => {
        throw worldError(
          `cannot replace ${final}, which now lies at ${former} and is put back next time`,
          cause,
        );
      });
    }
    throw error;
  }
};

/** Removes folders from `folder` up to `top` as long as they are empty. */
const removeEmpty = async (folder: string, top: string): Promise<void> => {
  for (let at = folder; at.startsWith(top); at = dirname(at)) {
    try {
      await rmdir(at);
    } catch {
      return;
    }
  }
};

/**
 * Begins to make a folder that will stand at `target`.
 * @param target - the folder's final path; its parents are made where missing. A link stands for the folder it leads to
 * @throws WorldError when the place cannot be written
 */
export const stageFolder = async (target: string): Promise<Staging> => {
  const final = await realTarget(target);
  const parent = dirname(final);
  const sides = sideFolders(final, `${process.pid}-${randomBytes(4).toString('hex')}`);
  const replaces = await exists(final);
  let madeParents: string | undefined;
  let landed = false;
  const discard = async (): Promise<void> => {
    // While the old folder waits aside (its way back failed too), the new one beside it tells the next build to put it back.
    // What cannot be removed now is cleared by the next build; the failure that led here is the one to tell of.
    if (!(await exists(sides.former)))
      await rm(sides.made, { recursive: true, force: true }).catch(() => undefined);
    if (!landed && madeParents !== undefined) await removeEmpty(parent, madeParents);
  };
  const refused = (error: unknown, doing: string): WorldError => {
    const { message } = error instanceof WorldError ? error : worldError(doing, error);
    const unchanged = replaces ? `. What stood at ${target} before is left as it was` : '';
    return new WorldError(`${message}${unchanged}`, { cause: error });
  };
  const write: Staging['write'] = async (path, bytes) => {
    const shown = join(target, path);
    try {
      await writeWhole(join(sides.made, path), bytes, shown);
    } catch (error) {
      throw refused(error, `cannot write ${shown}`);
    }
  };
  const land: Staging['land'] = async (isOurs) => {
    let kept: readonly KeptFile[] = [];
    try {
      if (await exists(final)) kept = await carryOver(final, sides.made, isOurs);
      await swap(final, sides);
    } catch (error) {
      await discard();
      throw error instanceof WorldError ? error : refused(error, `cannot put the new folder at ${target}`);
    }
    landed = true;
    // The new folder stands: an old one that will not go now (a file open elsewhere) goes at the next build.
    await rm(sides.former, { recursive: true, force: true }).catch(() => undefined);
    return kept;
  };
  try {
    madeParents = await mkdir(parent, { recursive: true });
    await tidyAbandoned(final);
    await mkdir(sides.made);
  } catch (error) {
    await discard();
    throw worldError(`cannot make ${target}`, error);
  }
  return { path: sides.made, write, land, discard };
};
