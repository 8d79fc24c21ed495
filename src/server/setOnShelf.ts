import type { Lesson } from '../lesson/index.ts';
import { readSetFile, type StoredSet, writeSetFile } from '../lessonfile/index.ts';
import type { PackSource, SetSource } from '../pack/index.ts';
import type { SetWish } from '../protocol/index.ts';
import { setOf, setProblems, type TuneSet } from '../sets/index.ts';
import type { Shelf } from '../shelf/index.ts';
import { lessonOnShelf } from './lessonOnShelf.ts';

/** A set of the shelf with what could be worked out of it. */
export interface SetInHand {
  readonly revision: string;
  readonly stored: StoredSet;
  /** One for each of its tunes; null where the lesson cannot be read. */
  readonly lessons: readonly (Lesson | null)[];
  /** Why it cannot be played, in sentences; none where `set` is there. */
  readonly problems: readonly string[];
  /** Null where it cannot be played. */
  readonly set: TuneSet | null;
  readonly source: SetSource | null;
}

/** What is told of a set's file that cannot be read. */
export type SetRead =
  | { readonly kind: 'set'; readonly set: SetInHand }
  | { readonly kind: 'problem'; readonly message: string };

/** What a teacher decides, as the page has it. */
export const wishOf = ({ lessons, plan }: StoredSet): SetWish => ({
  title: plan.title,
  plays: plan.version,
  tunes: plan.tunes.map(({ times, tempos, turn }, i) => ({
    lesson: lessons[i] ?? '',
    times,
    steady: tempos.steady ?? null,
    upToSpeed: tempos.upToSpeed ?? null,
    turn,
  })),
});

/** What a teacher decides as the text of a set's file, or in a sentence why no set can say so. */
export const setTextOf = (
  wish: SetWish,
):
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'problem'; readonly message: string } => {
  const text = textOf(wish);
  const read = readSetFile(text);
  return read.kind === 'set'
    ? { kind: 'text', text }
    : { kind: 'problem', message: read.problems.map(({ message }) => message).join(' ') };
};

const textOf = ({ title, plays, tunes }: SetWish): string =>
  writeSetFile({
    lessons: tunes.map(({ lesson }) => lesson),
    plan: {
      title,
      version: plays,
      tunes: tunes.map(({ times, steady, upToSpeed, turn }) => ({
        times,
        tempos: {
          ...(steady === null ? {} : { steady }),
          ...(upToSpeed === null ? {} : { upToSpeed }),
        },
        turn,
      })),
    },
  });

interface Opened {
  readonly lesson: Lesson;
  readonly source: PackSource;
}

const openLesson = async (shelf: Shelf, id: string, today: string): Promise<Opened | string> => {
  const title = shelf.get(id)?.facts.title ?? '';
  const [texts, folder] = [await shelf.read(id), shelf.folderOf(id)];
  if (texts === null || folder === null) return `The lesson “${id}” is not on the shelf any more.`;
  const worked = await lessonOnShelf(texts.texts, folder, today);
  return worked.kind === 'problem' ? `${title === '' ? id : title}: ${worked.message}` : worked;
};

/** Reads a set's file; null where there is none. */
export const storedSet = async (
  shelf: Shelf,
  id: string,
): Promise<{ readonly stored: StoredSet; readonly revision: string } | string | null> => {
  const now = await shelf.sets.read(id);
  if (now === null) return null;
  const read = readSetFile(now.text);
  if (read.kind === 'set') return { stored: read.set, revision: now.revision };
  const [first] = read.problems;
  return `sets/${id}.json, line ${first?.line ?? 1}: ${first?.message ?? 'it cannot be read.'}`;
};

/**
 * Works out a set of the shelf.
 * @returns null where there is none
 */
export const setOnShelf = async (shelf: Shelf, id: string, today: string): Promise<SetRead | null> => {
  const read = await storedSet(shelf, id);
  if (read === null) return null;
  if (typeof read === 'string') return { kind: 'problem', message: read };
  const { stored, revision } = read;
  const opened = await Promise.all(stored.lessons.map((lesson) => openLesson(shelf, lesson, today)));
  const missing = opened.filter((one) => typeof one === 'string');
  const there = opened.filter((one) => typeof one !== 'string');
  const lessons = opened.map((one) => (typeof one === 'string' ? null : one.lesson));
  const whole = there.map(({ lesson }) => lesson);
  const problems = missing.length > 0 ? missing : setProblems(whole, stored.plan);
  const isWhole = problems.length === 0;
  return {
    kind: 'set',
    set: {
      revision,
      stored,
      lessons,
      problems,
      set: isWhole ? setOf(whole, stored.plan) : null,
      source: isWhole ? { lessons: there.map(({ source }) => source), plan: stored.plan } : null,
    },
  };
};
