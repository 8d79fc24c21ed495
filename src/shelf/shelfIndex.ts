import { join } from 'node:path';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { type CachedFacts, readCache, writeCache } from './indexCache.ts';
import { finishSave } from './journal.ts';
import { allFacts, firstFacts, type LessonFacts } from './lessonFacts.ts';
import type { LessonQueue } from './lessonQueue.ts';
import { TEXT_NAMES } from './lessonTexts.ts';
import { readLessonFolder, readLessonTexts } from './readLessonFolder.ts';
import { type Found, type SearchIndex, searchIndexOf, searchLessons } from './searchLessons.ts';
import type { ShelfFiles } from './shelfFiles.ts';

/** One lesson as the index has it. */
export interface IndexedLesson {
  readonly id: string;
  /** Sizes and times of its files: equal stamps, equal files. */
  readonly stamp: string;
  /** When it was last changed, milliseconds since 1970. */
  readonly changed: number;
  /** When its pack was made; null: it has none. */
  readonly packMade: number | null;
  readonly facts: LessonFacts;
}

/** The shelf's index, kept in memory. */
export interface ShelfIndex {
  readonly get: (id: string) => IndexedLesson | undefined;
  readonly size: () => number;
  readonly search: (words: string) => readonly Found[];
  /** Looks at all files anew. @returns lessons that are new, gone or changed */
  readonly scan: () => Promise<readonly string[]>;
  /** Looks at one lesson anew. @returns whether it is other than before */
  readonly look: (id: string) => Promise<boolean>;
  /** Works out what is not known yet, lesson by lesson, the last changed first. */
  readonly complete: () => Promise<void>;
  readonly close: () => Promise<void>;
}

/** Folders that are looked at at the same time. Ours. */
const AT_ONCE = 32;

/** While more and more gets known of the lessons, the search index is made anew at most so often, in milliseconds. Ours. */
const SEARCH_INDEX_AGE = 2000;

const aboutFile = async (files: ShelfFiles, path: string) => {
  const about = await files.about(path).catch(() => null);
  return about?.kind === 'folder' ? null : about;
};

/** Whether a folder's name may be a lesson's. */
const isLessonName = (name: string): boolean => !name.startsWith('.');

/** What an index works with. */
interface IndexTools {
  readonly files: ShelfFiles;
  readonly queue: LessonQueue;
  /** Called when all is known of one more lesson. */
  readonly onCompleted: () => void;
}

/** An index with all that it keeps. */
interface IndexState extends IndexTools {
  readonly shelf: string;
  readonly cached: ReadonlyMap<string, CachedFacts>;
  readonly lessons: Map<string, IndexedLesson>;
  searchIndex: SearchIndex | null;
  /** When the search index was made. */
  indexedAt: number;
  /** More is known of some lesson than the search index has. */
  outOfDate: boolean;
  unsaved: boolean;
  closed: boolean;
  completing: Promise<void> | null;
}

/** Sees what stands in a lesson's folder now; null: no lesson. */
const seen = async (
  { shelf, files, lessons, cached }: IndexState,
  id: string,
): Promise<IndexedLesson | null> => {
  const folder = join(shelf, id);
  const [abc, settings, pack] = await Promise.all([
    aboutFile(files, join(folder, TEXT_NAMES.abc)),
    aboutFile(files, join(folder, TEXT_NAMES.settings)),
    aboutFile(files, join(folder, 'pack', 'manifest.json')),
  ]);
  if (abc === null && settings === null) return null;
  const stamp = [abc, settings].map((about) => `${about?.size ?? '-'}@${about?.changed ?? '-'}`).join(' ');
  const changed = Math.max(abc?.changed ?? 0, settings?.changed ?? 0);
  const packMade = pack?.changed ?? null;
  const before = lessons.get(id);
  if (before?.stamp === stamp) return before.packMade === packMade ? before : { ...before, packMade };
  const known = cached.get(id);
  const facts = known?.stamp === stamp ? known.facts : firstFacts(await readLessonTexts(folder, files), id);
  return { id, stamp, changed, packMade, facts };
};

/** Puts what was seen into the index. @returns whether it is other than before */
const put = (state: IndexState, id: string, now: IndexedLesson | null): boolean => {
  const before = state.lessons.get(id);
  if (before === (now ?? undefined)) return false;
  if (now === null) state.lessons.delete(id);
  else state.lessons.set(id, now);
  state.searchIndex = null;
  state.unsaved = true;
  return before?.stamp !== now?.stamp || before?.packMade !== now?.packMade;
};

const look = (state: IndexState, id: string): Promise<boolean> =>
  state.queue(id, async () => {
    const { shelf, files } = state;
    if (!isLessonName(id)) return false;
    const about = await files.about(join(shelf, id)).catch(() => null);
    if (about?.kind !== 'folder') return put(state, id, null);
    await finishSave(join(shelf, id), files).catch(() => undefined);
    return put(state, id, await seen(state, id));
  });

const scan = async (state: IndexState): Promise<readonly string[]> => {
  const names = (await state.files.names(state.shelf)).filter(isLessonName);
  const there = new Set(names);
  const gone = [...state.lessons.keys()].filter((id) => !there.has(id));
  const changed: string[] = [];
  const waiting = [...names, ...gone].values();
  const worker = async (): Promise<void> => {
    for (const id of waiting) {
      if (state.closed) return;
      if (await look(state, id)) changed.push(id);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, worker));
  return changed;
};

const save = async (state: IndexState): Promise<void> => {
  if (!state.unsaved) return;
  state.unsaved = false;
  const complete = [...state.lessons.values()].filter(({ facts }) => facts.complete);
  const entries = complete.map(({ id, stamp, facts }): [string, CachedFacts] => [id, { stamp, facts }]);
  await writeCache(state.shelf, new Map(entries), state.files);
};

const completeOne = async (state: IndexState, { id, stamp }: IndexedLesson): Promise<void> => {
  const read = await readLessonFolder(join(state.shelf, id), state.files);
  await nextTurn();
  const facts = allFacts(read, id);
  const now = state.lessons.get(id);
  if (now?.stamp !== stamp) return;
  state.lessons.set(id, { ...now, facts });
  state.unsaved = true;
  state.outOfDate = true;
  state.onCompleted();
};

/** Works out what is not known yet, one lesson a turn, so that whoever asks meanwhile is answered. */
const completeAll = async (state: IndexState): Promise<void> => {
  const left = (): readonly IndexedLesson[] =>
    [...state.lessons.values()].filter(({ facts }) => !facts.complete);
  for (let some = left(); some.length > 0; some = left())
    for (const lesson of some.toSorted((a, b) => b.changed - a.changed)) {
      if (state.closed) return;
      await completeOne(state, lesson);
      await nextTurn();
    }
  if (state.outOfDate) state.searchIndex = null;
  await save(state);
};

const searchIndexNow = (state: IndexState): SearchIndex => {
  const old = state.outOfDate && performance.now() - state.indexedAt > SEARCH_INDEX_AGE;
  if (state.searchIndex !== null && !old) return state.searchIndex;
  const made = searchIndexOf([...state.lessons.values()]);
  Object.assign(state, { searchIndex: made, indexedAt: performance.now(), outOfDate: false });
  return made;
};

/** Makes the index of a shelf from its files and from what was known when it was last open. */
export const shelfIndexOf = async (shelf: string, tools: IndexTools): Promise<ShelfIndex> => {
  const state: IndexState = {
    ...tools,
    shelf,
    cached: await readCache(shelf, tools.files),
    lessons: new Map(),
    searchIndex: null,
    indexedAt: 0,
    outOfDate: false,
    unsaved: false,
    closed: false,
    completing: null,
  };
  return {
    get: (id) => state.lessons.get(id),
    size: () => state.lessons.size,
    search: (words) => searchLessons(words, searchIndexNow(state)),
    scan: () => scan(state),
    look: (id) => look(state, id),
    complete: () => {
      state.completing ??= completeAll(state).finally(() => {
        state.completing = null;
      });
      return state.completing;
    },
    close: async () => {
      state.closed = true;
      await state.completing;
      await save(state);
    },
  };
};
