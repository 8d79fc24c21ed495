import { cp } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { worldError } from '../store/index.ts';
import { copyRecordings } from './copyRecordings.ts';
import {
  type BroughtBack,
  bringBackDeleted,
  type DeletedLesson,
  deletedLessons,
  deleteLesson,
  throwAwayLesson,
} from './deletedLessons.ts';
import { type LessonQueue, lessonQueue } from './lessonQueue.ts';
import type { LessonTexts } from './lessonTexts.ts';
import { addLesson, firstTitleIn, type NewLessons, textsOfTunes, withTitle } from './makeLessons.ts';
import {
  type EarlierState,
  type LessonKeeper,
  type LessonNow,
  lessonKeeperOf,
  type Saved,
  type SaveWish,
} from './saveLesson.ts';
import { type SetShelf, setShelfOf } from './setsOnShelf.ts';
import { diskFiles, type ShelfFiles } from './shelfFiles.ts';
import { type IndexedLesson, type ShelfIndex, shelfIndexOf } from './shelfIndex.ts';
import { watchShelf } from './watchShelf.ts';

/** What a shelf tells of its own accord. */
export type ShelfNews =
  /** There are other lessons than before, or more is known of some. */
  | { readonly kind: 'shelf' }
  /** A lesson's texts have changed, by whomever. */
  | { readonly kind: 'lesson'; readonly id: string; readonly revision: string };

/** A lesson of a list, and why the search found it where that is not its title. */
export interface ListedLesson extends IndexedLesson {
  readonly found: string;
}

/** A folder of lessons that is kept open. Ids are names of folders; of an unknown one every answer is null. */
export interface Shelf {
  readonly folder: string;
  readonly size: () => number;
  /** All that the words find, best first; without words all lessons, the last changed first. */
  readonly search: (words: string) => readonly ListedLesson[];
  readonly get: (id: string) => IndexedLesson | null;
  /** The lesson's folder. */
  readonly folderOf: (id: string) => string | null;
  readonly read: (id: string) => Promise<LessonNow | null>;
  readonly save: (id: string, texts: LessonTexts, wish: SaveWish) => Promise<Saved | null>;
  /**
   * Makes lessons of some tunes of a text.
   * @returns their ids in order, or in a sentence why there are none
   */
  readonly make: (
    wish: NewLessons,
  ) => Promise<
    | { readonly kind: 'made'; readonly ids: readonly string[] }
    | { readonly kind: 'problem'; readonly message: string }
  >;
  /** A copy of the lesson's texts and recordings as a lesson of its own. */
  readonly copy: (id: string) => Promise<string | null>;
  /** Changes the title; false where the lesson has no tune. */
  readonly retitle: (id: string, title: string) => Promise<boolean | null>;
  /** @returns the mark that brings it back */
  readonly remove: (id: string) => Promise<string | null>;
  /** @returns the lesson or set that is there again; null: it is not among the deleted ones */
  readonly bringBack: (mark: string) => Promise<BroughtBack | null>;
  /** Lessons and sets that can still be brought back, the last deleted first. */
  readonly deleted: () => Promise<readonly DeletedLesson[]>;
  /** Removes a deleted lesson for good. @returns false: it is not among them */
  readonly throwAway: (mark: string) => Promise<boolean>;
  readonly earlier: (id: string) => Promise<readonly EarlierState[] | null>;
  readonly earlierTexts: (id: string, mark: string) => Promise<LessonTexts | null>;
  /** Looks at a lesson's files now, as after a pack was built. */
  readonly look: (id: string) => Promise<void>;
  /** Resolves when all is known of every lesson. */
  readonly completed: () => Promise<void>;
  /** @returns stops the news */
  readonly onNews: (listener: (news: ShelfNews) => void) => () => void;
  readonly sets: SetShelf;
  readonly close: () => Promise<void>;
}

/** How to open a shelf. */
export interface ShelfOptions {
  readonly folder: string;
  /** A folder of lessons that a missing or empty shelf begins with. */
  readonly demo?: string;
  readonly now: () => Date;
  /** The disk; tests give one that fails. */
  readonly files?: ShelfFiles;
}

/**
 * News of the shelf as a whole are told at most so often, in milliseconds: that it has changed, and that more is known of
 * lessons that are listed already. Ours.
 */
const NEWS_PAUSE = { changed: 300, known: 2000 } as const;

/** Makes the folder, and puts the demo lessons into an empty one. */
const prepare = async (folder: string, demo: string | undefined, files: ShelfFiles): Promise<void> => {
  try {
    await files.makeFolder(folder);
    const names = await files.names(folder);
    if (demo === undefined || names.length > 0) return;
    for (const name of await files.names(demo))
      await cp(join(demo, name), join(folder, name), { recursive: true, force: false });
  } catch (error) {
    throw worldError(`the folder of lessons ${folder} cannot be opened`, error);
  }
};

/** A shelf with all that it works with. */
interface Opened {
  readonly folder: string;
  readonly files: ShelfFiles;
  readonly now: () => Date;
  readonly queue: LessonQueue;
  readonly index: ShelfIndex;
  readonly keeper: LessonKeeper;
  /** A lesson's revision is known: told where it was another before. */
  readonly learn: (id: string, revision: string) => void;
  /** Looks at a lesson's files, and tells what has changed. */
  readonly look: (id: string) => Promise<void>;
}

/** Does something with a lesson that is there; null where it is not. */
const withLesson = async <T>(
  { folder, index, queue }: Opened,
  id: string,
  work: (path: string) => Promise<T>,
): Promise<T | null> => (index.get(id) === undefined ? null : queue(id, () => work(join(folder, id))));

type Reading = Pick<Shelf, 'read' | 'save' | 'retitle' | 'earlier' | 'earlierTexts'>;

const readingOf = (opened: Opened, follow: (folder: string) => void): Reading => {
  const { keeper, learn, look } = opened;
  const save: Shelf['save'] = async (id, texts, wish) => {
    const saved = await withLesson(opened, id, (path) => keeper.save(path, texts, wish));
    if (saved?.kind !== 'saved') return saved;
    learn(id, saved.revision);
    await look(id);
    return saved;
  };
  return {
    read: (id) =>
      withLesson(opened, id, async (path) => {
        follow(path);
        const lesson = await keeper.read(path);
        learn(id, lesson.revision);
        return lesson;
      }),
    save,
    retitle: async (id, title) => {
      const lesson = await withLesson(opened, id, keeper.read);
      if (lesson === null) return null;
      const abc = withTitle(lesson.texts.abc, title);
      if (abc === null) return false;
      return (await save(id, { ...lesson.texts, abc }, { base: lesson.revision }))?.kind === 'saved';
    },
    earlier: (id) => withLesson(opened, id, keeper.earlier),
    earlierTexts: (id, mark) => withLesson(opened, id, (path) => keeper.earlierTexts(path, mark)),
  };
};

type Arranging = Pick<Shelf, 'make' | 'copy' | 'remove' | 'bringBack' | 'deleted' | 'throwAway'>;

const arrangingOf = (opened: Opened): Arranging => {
  const { folder, files, now, keeper, look } = opened;
  const added = async (id: string): Promise<string> => {
    await look(id);
    return id;
  };
  return {
    make: async (wish) => {
      const chosen = textsOfTunes(wish);
      if (chosen.kind === 'problem') return chosen;
      const ids: string[] = [];
      for (const texts of chosen.texts) ids.push(await added(await addLesson(folder, texts, files)));
      return { kind: 'made', ids };
    },
    copy: (id) =>
      withLesson(opened, id, async (path) => {
        const { texts } = await keeper.read(path);
        const title = `${firstTitleIn(texts.abc)} (copy)`.trim();
        const abc = withTitle(texts.abc, title) ?? texts.abc;
        const made = await addLesson(folder, { ...texts, abc }, files);
        await copyRecordings(path, join(folder, made));
        return added(made);
      }),
    remove: async (id) => {
      const mark = await withLesson(opened, id, () => deleteLesson(folder, id, now(), files));
      if (mark !== null) await look(id);
      return mark;
    },
    bringBack: async (mark) => {
      const back = await bringBackDeleted(folder, mark, files);
      if (back?.kind === 'lesson') await added(back.id);
      return back;
    },
    deleted: () => deletedLessons(folder, files),
    throwAway: (mark) => throwAwayLesson(folder, mark, files),
  };
};

/** Tells news to whoever listens; of the shelf as a whole not at every turn. */
const newsOf = () => {
  const listeners = new Set<(news: ShelfNews) => void>();
  const tell = (news: ShelfNews): void => {
    for (const listener of listeners) listener(news);
  };
  const telling = new Map<keyof typeof NEWS_PAUSE, NodeJS.Timeout>();
  return {
    tell,
    ofShelf: (why: keyof typeof NEWS_PAUSE): void => {
      if (telling.has(why)) return;
      const timer = setTimeout(() => {
        telling.delete(why);
        tell({ kind: 'shelf' });
      }, NEWS_PAUSE[why]);
      telling.set(why, timer.unref());
    },
    onNews: (listener: (news: ShelfNews) => void) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    close: (): void => {
      for (const timer of telling.values()) clearTimeout(timer);
      listeners.clear();
    },
  };
};

/** Keeps an index and what is known of revisions in step with the files. */
const openedOf = async (
  { folder, now, files }: Required<Omit<ShelfOptions, 'demo'>>,
  news: ReturnType<typeof newsOf>,
): Promise<Opened & { readonly lookAround: () => Promise<void> }> => {
  const queue = lessonQueue();
  const index = await shelfIndexOf(folder, { files, queue, onCompleted: () => news.ofShelf('known') });
  const keeper = lessonKeeperOf(files, now);
  /** Revisions as they were last told or read, by id. */
  const revisions = new Map<string, string>();
  const learn = (id: string, revision: string): void => {
    const known = revisions.get(id);
    revisions.set(id, revision);
    if (known !== undefined && known !== revision) news.tell({ kind: 'lesson', id, revision });
  };
  const changed = async (ids: readonly string[]): Promise<void> => {
    if (ids.length === 0) return;
    news.ofShelf('changed');
    void index.complete();
    for (const id of ids) {
      if (!revisions.has(id) || index.get(id) === undefined) continue;
      const lesson = await queue(id, () => keeper.read(join(folder, id))).catch(() => null);
      if (lesson !== null) learn(id, lesson.revision);
    }
  };
  const look = async (id: string): Promise<void> => {
    if (await index.look(id)) await changed([id]);
  };
  const lookAround = async (): Promise<void> => changed(await index.scan());
  return { folder, files, now, queue, index, keeper, learn, look, lookAround };
};

/**
 * Opens a folder of lessons.
 * @throws WorldError when the folder can be neither read nor made
 */
export const openShelf = async ({ folder, demo, now, files = diskFiles }: ShelfOptions): Promise<Shelf> => {
  await prepare(folder, demo, files);
  const news = newsOf();
  const opened = await openedOf({ folder, now, files }, news);
  const { index } = opened;
  await opened.lookAround();
  const watch = watchShelf(folder, files, async (at) => {
    try {
      await (at === null ? opened.lookAround() : opened.look(basename(at)));
    } catch {
      // A shelf that cannot be read now is looked at again later; what is asked of it meanwhile says why.
    }
  });
  return {
    folder,
    size: index.size,
    search: (words) =>
      index.search(words).flatMap(({ id, why }) => {
        const lesson = index.get(id);
        return lesson === undefined ? [] : [{ ...lesson, found: why }];
      }),
    get: (id) => index.get(id) ?? null,
    folderOf: (id) => (index.get(id) === undefined ? null : join(folder, id)),
    ...readingOf(opened, watch.follow),
    ...arrangingOf(opened),
    look: opened.look,
    sets: setShelfOf(folder, { files, queue: opened.queue, now }),
    completed: index.complete,
    onNews: news.onNews,
    close: async () => {
      watch.close();
      news.close();
      await index.close();
    },
  };
};
