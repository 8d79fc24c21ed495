import { join } from 'node:path';
import { codeOf, WorldError, worldError } from '../store/index.ts';
import { addCheckpoint } from './checkpoints.ts';
import { type LessonTexts, sumOf, TEXT_NAMES } from './lessonTexts.ts';
import type { ShelfFiles } from './shelfFiles.ts';

// Both files of a lesson change as one. Each new text is written beside its place; a journal that names both is the
// moment from which the new state counts; then both are put in their places and the journal goes. Whoever reads the
// lesson and finds a journal does first what is left to do. A single changed text needs no journal: its rename is one
// step already.

const JOURNAL = '.saving.json';

/** Where a new text lies until it is in its place. */
const asideName = (name: string): string => `.saving-${name}`;

/** One file that a journal names. */
interface Swap {
  readonly name: string;
  /** Sum of what stood there before; null: nothing. */
  readonly before: string | null;
  readonly after: string;
}

const isSwap = (value: unknown): value is Swap =>
  typeof value === 'object' &&
  value !== null &&
  'name' in value &&
  Object.values(TEXT_NAMES).some((name) => name === value.name) &&
  'before' in value &&
  (value.before === null || typeof value.before === 'string') &&
  'after' in value &&
  typeof value.after === 'string';

const bytesAt = async (files: ShelfFiles, path: string): Promise<Uint8Array | null> => {
  try {
    return await files.read(path);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return null;
    throw error;
  }
};

const sumAt = async (files: ShelfFiles, path: string): Promise<string | null> => {
  const bytes = await bytesAt(files, path);
  return bytes === null ? null : sumOf(bytes);
};

/** What a journal names; null: there is none, or it is none of ours. */
const swapsOf = async (folder: string, files: ShelfFiles): Promise<readonly Swap[] | null> => {
  const bytes = await bytesAt(files, join(folder, JOURNAL));
  if (bytes === null) return null;
  try {
    const swaps: unknown = JSON.parse(new TextDecoder().decode(bytes));
    return Array.isArray(swaps) && swaps.every(isSwap) ? swaps : null;
  } catch {
    return null;
  }
};

/** Puts the new texts of a journal in their places. What somebody wrote there meanwhile is kept as an earlier state. */
const putInPlace = async (folder: string, swaps: readonly Swap[], files: ShelfFiles): Promise<void> => {
  for (const { name, before, after } of swaps) {
    const aside = join(folder, asideName(name));
    if ((await sumAt(files, aside)) !== after) continue;
    const now = await sumAt(files, join(folder, name));
    if (now !== null && now !== before && now !== after) await addCheckpoint(folder, new Date(), files);
    try {
      await files.rename(aside, join(folder, name));
    } catch (error) {
      // Another program that has the shelf open too may have been quicker.
      if ((await sumAt(files, join(folder, name))) !== after) throw error;
    }
  }
  await files.settle(folder);
  await files.remove(join(folder, JOURNAL));
};

/**
 * Does what a save that was cut off has left to do; nothing where there is nothing.
 * @throws an error of the file system where it cannot be done now
 */
export const finishSave = async (folder: string, files: ShelfFiles): Promise<void> => {
  const swaps = await swapsOf(folder, files);
  if (swaps !== null) await putInPlace(folder, swaps, files);
};

/** Brings back what stood in its place before, so that the lesson is as it was, and forgets the journal. */
const takeBack = async (
  folder: string,
  former: ReadonlyMap<string, Uint8Array | null>,
  files: ShelfFiles,
): Promise<void> => {
  for (const [name, bytes] of former) {
    const place = join(folder, name);
    const now = await bytesAt(files, place);
    if (bytes === null) {
      if (now !== null) await files.remove(place);
    } else if (now === null || sumOf(now) !== sumOf(bytes)) {
      await files.write(join(folder, asideName(name)), bytes);
      await files.rename(join(folder, asideName(name)), place);
    }
  }
  await files.settle(folder);
  await files.remove(join(folder, JOURNAL));
};

const clearAside = async (folder: string, names: readonly string[], files: ShelfFiles): Promise<void> => {
  const paths = [`${JOURNAL}.part`, ...names.map(asideName)];
  for (const name of paths) await files.remove(join(folder, name)).catch(() => undefined);
};

type Former = ReadonlyMap<string, Uint8Array | null>;

/** What stands at some places now. */
const formerOf = async (folder: string, names: readonly string[], files: ShelfFiles): Promise<Former> => {
  const former = new Map<string, Uint8Array | null>();
  for (const name of names) former.set(name, await bytesAt(files, join(folder, name)));
  return former;
};

/** Takes the last steps of a save. Where one fails the lesson becomes again what it was. */
const orTakeBack = async (
  folder: string,
  former: Former,
  files: ShelfFiles,
  steps: () => Promise<void>,
): Promise<void> => {
  try {
    await steps();
  } catch (error) {
    try {
      await takeBack(folder, former, files);
    } catch {
      const { message } = worldError('the lesson was written, but the disk may not have it yet', error);
      throw new WorldError(`${message}. What you wrote counts from the next time the lesson is read`, {
        cause: error,
      });
    }
    throw error;
  }
};

const swapOne = async (folder: string, name: string, files: ShelfFiles): Promise<void> => {
  const former = await formerOf(folder, [name], files);
  await orTakeBack(folder, former, files, async () => {
    await files.rename(join(folder, asideName(name)), join(folder, name));
    await files.settle(folder);
  });
};

const swapBoth = async (
  folder: string,
  names: readonly string[],
  contents: ReadonlyMap<string, string>,
  files: ShelfFiles,
): Promise<void> => {
  const former = await formerOf(folder, names, files);
  const swaps = names.map((name): Swap => {
    const bytes = former.get(name) ?? null;
    return { name, before: bytes === null ? null : sumOf(bytes), after: sumOf(contents.get(name) ?? '') };
  });
  await files.settle(folder);
  await files.write(join(folder, `${JOURNAL}.part`), JSON.stringify(swaps));
  await orTakeBack(folder, former, files, async () => {
    await files.rename(join(folder, `${JOURNAL}.part`), join(folder, JOURNAL));
    await files.settle(folder);
    await putInPlace(folder, swaps, files);
  });
};

/**
 * Writes what has changed of a lesson's texts, both or neither.
 *
 * When it returns, the disk has them. When it throws, the lesson is as it was, or (where even that failed) the new
 * state counts and is put in place by the next one who reads it.
 * @param before - the texts as they are; a text that is equal in both is not written
 * @throws WorldError with the reason in words
 */
export const saveTexts = async (
  folder: string,
  before: LessonTexts | null,
  after: LessonTexts,
  files: ShelfFiles,
): Promise<void> => {
  const keys = (['abc', 'settings'] as const).filter((key) => before?.[key] !== after[key]);
  const names = keys.map((key) => TEXT_NAMES[key]);
  try {
    for (const key of keys) await files.write(join(folder, asideName(TEXT_NAMES[key])), after[key]);
    const [only, second] = names;
    if (only === undefined) return;
    if (second === undefined) await swapOne(folder, only, files);
    else await swapBoth(folder, names, new Map(keys.map((key) => [TEXT_NAMES[key], after[key]])), files);
  } catch (error) {
    if (error instanceof WorldError) throw error;
    await clearAside(folder, names, files);
    throw worldError('the lesson could not be saved', error);
  }
};
