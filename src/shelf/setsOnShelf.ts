import { join } from 'node:path';
import { worldError } from '../store/index.ts';
import { markOf } from './checkpoints.ts';
import type { LessonQueue } from './lessonQueue.ts';
import { sumOf } from './lessonTexts.ts';
import type { ShelfFiles } from './shelfFiles.ts';
import { DELETED, DELETED_SET, SETS } from './shelfPlaces.ts';

/** How saving a set ended; `changed`: its file had changed since, and was not touched. */
export type SetSaved = { readonly kind: 'saved'; readonly revision: string } | { readonly kind: 'changed' };

/** A set's file as text. */
export interface SetNow {
  readonly text: string;
  /** Names this text; another text has another name. */
  readonly revision: string;
}

/** The sets of a shelf: files NAME.json in its folder "sets", each set's pack in the folder NAME beside it. */
export interface SetShelf {
  /** Their ids, in alphabetical order. */
  readonly ids: () => Promise<readonly string[]>;
  readonly read: (id: string) => Promise<SetNow | null>;
  /** Puts a new set there. @returns its id: the name, or the next that is free */
  readonly add: (name: string, text: string) => Promise<string>;
  /** Writes a set whole. @param base - the revision that the new text was made from */
  readonly save: (id: string, text: string, base: string) => Promise<SetSaved | null>;
  /** Puts a set with its pack among the deleted ones. @returns the mark that brings it back */
  readonly remove: (id: string) => Promise<string | null>;
  /** The folder of a set's pack. */
  readonly packOf: (id: string) => string;
}

/** A set's file, in the folder of sets. */
const fileOf = (id: string): string => `${id}.json`;

/** The first of "name", "name-2" … of which there is neither a file nor a pack. */
const freeSetName = async (shelf: string, name: string, files: ShelfFiles): Promise<string> => {
  const taken = new Set(await files.names(join(shelf, SETS)));
  for (let n = 1; ; n += 1) {
    const free = n === 1 ? name : `${name}-${n}`;
    if (!taken.has(fileOf(free)) && !taken.has(free)) return free;
  }
};

/** Puts text where it belongs as one step: whoever reads meanwhile reads the former text. */
const put = async (shelf: string, id: string, text: string, files: ShelfFiles): Promise<void> => {
  const folder = join(shelf, SETS);
  await files.makeFolder(folder);
  const aside = join(folder, `.saving-${fileOf(id)}`);
  await files.write(aside, text);
  await files.rename(aside, join(folder, fileOf(id)));
  await files.settle(folder);
};

/** Where a deleted set and its pack are put. */
const putAway = async (shelf: string, id: string, mark: string, files: ShelfFiles): Promise<void> => {
  const folder = join(shelf, DELETED, mark);
  await files.makeFolder(folder);
  const pack = join(shelf, SETS, id);
  if ((await files.about(pack))?.kind === 'folder') await files.rename(pack, join(folder, 'pack'));
  await files.rename(join(shelf, SETS, fileOf(id)), join(folder, DELETED_SET));
  await files.settle(join(shelf, SETS));
  await files.settle(folder);
};

/** The sets of a shelf. Calls throw WorldError where the disk does not let them. */
export const setShelfOf = (
  shelf: string,
  {
    files,
    queue,
    now,
  }: { readonly files: ShelfFiles; readonly queue: LessonQueue; readonly now: () => Date },
): SetShelf => {
  const inWords = async <T>(what: string, work: () => Promise<T>): Promise<T> => {
    try {
      return await work();
    } catch (error) {
      throw worldError(what, error);
    }
  };
  const ids = async (): Promise<readonly string[]> => {
    const names = await files.names(join(shelf, SETS));
    return names
      .filter((name) => name.endsWith('.json') && !name.startsWith('.'))
      .map((name) => name.slice(0, -'.json'.length))
      .toSorted();
  };
  const read = async (id: string): Promise<SetNow | null> => {
    if (!(await ids()).includes(id)) return null;
    const text = new TextDecoder().decode(await files.read(join(shelf, SETS, fileOf(id))));
    return { text, revision: sumOf(text) };
  };
  /** Sets wait for each other: they are few, and no lesson is called so. */
  const alone = <T>(what: string, work: () => Promise<T>): Promise<T> =>
    queue(`${SETS}/`, () => inWords(what, work));
  return {
    ids: () => inWords('the sets could not be listed', ids),
    read: (id) => inWords('the set could not be read', () => read(id)),
    add: (name, text) =>
      alone('the set could not be put on the shelf', async () => {
        const id = await freeSetName(shelf, name, files);
        await put(shelf, id, text, files);
        return id;
      }),
    save: (id, text, base) =>
      alone('the set could not be saved', async () => {
        const before = await read(id);
        if (before === null) return null;
        if (before.revision !== base) return { kind: 'changed' };
        if (before.text !== text) await put(shelf, id, text, files);
        return { kind: 'saved', revision: sumOf(text) };
      }),
    remove: (id) =>
      alone('the set could not be deleted', async () => {
        if ((await read(id)) === null) return null;
        const mark = `${markOf(now())} ${id}`;
        await putAway(shelf, id, mark, files);
        return mark;
      }),
    packOf: (id) => join(shelf, SETS, id),
  };
};

/** Brings a deleted set back, with its pack. @returns its id */
export const bringBackSet = async (shelf: string, mark: string, files: ShelfFiles): Promise<string> => {
  const id = await freeSetName(shelf, mark.slice(mark.indexOf(' ') + 1), files);
  const folder = join(shelf, DELETED, mark);
  await files.makeFolder(join(shelf, SETS));
  if ((await files.about(join(folder, 'pack')))?.kind === 'folder')
    await files.rename(join(folder, 'pack'), join(shelf, SETS, id));
  await files.rename(join(folder, DELETED_SET), join(shelf, SETS, fileOf(id)));
  await files.settle(join(shelf, SETS));
  await files.remove(folder);
  return id;
};
