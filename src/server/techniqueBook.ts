import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { ListedLesson, Shelf } from '../shelf/index.ts';
import type { Looked } from './lookThrough.ts';

/** What is known of the lessons' techniques; worked out in a thread of its own, lesson by lesson. */
export interface TechniqueBook {
  /** What is known now, by lesson, in alphabetical order of their titles, and how many are still to be looked through. */
  readonly now: () => { readonly lessons: readonly KnownLesson[]; readonly left: number };
  /** Forgets everything: names or words have changed. */
  readonly forget: () => void;
  readonly close: () => Promise<void>;
}

/** A lesson with what was found in it. */
export interface KnownLesson {
  readonly lesson: ListedLesson;
  readonly looked: Looked;
}

interface Kept {
  readonly stamp: string;
  readonly looked: Looked;
}

/** Names the state of a lesson and of its pack. */
const stampOf = ({ stamp, packMade }: ListedLesson): string => `${stamp} ${packMade ?? ''}`;

/** Keeps the techniques of a shelf's lessons. */
export const techniqueBookOf = (shelf: Shelf, today: () => string): TechniqueBook => {
  const known = new Map<string, Kept>();
  let worker: Worker | null = null;
  let running = false;
  let closed = false;
  /** Grows whenever everything is forgotten: what was asked before counts no more. */
  let era = 0;

  const lessons = (): readonly ListedLesson[] =>
    shelf.search('').toSorted((a, b) => a.facts.title.localeCompare(b.facts.title, 'en'));
  const isKnown = (lesson: ListedLesson): boolean => known.get(lesson.id)?.stamp === stampOf(lesson);

  const look = async (lesson: ListedLesson): Promise<Looked> => {
    const nothing = { id: lesson.id, techniques: [], changes: [] };
    const [now, folder] = [await shelf.read(lesson.id), shelf.folderOf(lesson.id)];
    if (now === null || folder === null || lesson.facts.broken !== null) return nothing;
    const isOlder = lesson.packMade !== null && lesson.packMade < lesson.changed;
    const handedOut = isOlder
      ? await readFile(join(folder, 'pack', 'tune.abc'), 'utf8').catch(() => null)
      : null;
    const thread = worker ?? new Worker(new URL('./lookWorker.js', import.meta.url));
    worker = thread;
    return new Promise((resolve) => {
      const fail = (): void => {
        worker = null;
        resolve(nothing);
      };
      thread.once('error', fail);
      thread.once('message', (looked: Looked) => {
        thread.off('error', fail);
        resolve(looked);
      });
      thread.postMessage({ id: lesson.id, texts: now.texts, folder, today: today(), handedOut });
    });
  };

  const lookAll = async (): Promise<void> => {
    for (;;) {
      const next = closed ? undefined : lessons().find((lesson) => !isKnown(lesson));
      if (next === undefined) break;
      const asked = era;
      const looked = await look(next);
      if (asked === era) known.set(next.id, { stamp: stampOf(next), looked });
    }
    await worker?.terminate();
    worker = null;
  };

  return {
    now: () => {
      if (!running && !closed) {
        running = true;
        void lookAll()
          .catch(() => undefined)
          .finally(() => {
            running = false;
          });
      }
      const all = lessons();
      return {
        lessons: all.flatMap((lesson) => {
          const kept = known.get(lesson.id);
          return kept === undefined ? [] : [{ lesson, looked: kept.looked }];
        }),
        left: all.filter((lesson) => !isKnown(lesson)).length,
      };
    },
    forget: () => {
      era += 1;
      known.clear();
    },
    close: async () => {
      closed = true;
      await worker?.terminate();
    },
  };
};
