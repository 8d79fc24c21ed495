import { WorldError, worldError } from '../store/index.ts';
import { addCheckpoint, checkpointFolder, checkpointMarks, whenOf } from './checkpoints.ts';
import { whatChanged } from './checkpointWords.ts';
import { finishSave, saveTexts } from './journal.ts';
import { type LessonTexts, revisionOf } from './lessonTexts.ts';
import { type LessonFolder, readLessonFolder, readLessonTexts } from './readLessonFolder.ts';
import type { ShelfFiles } from './shelfFiles.ts';

/** A lesson as its files are now. */
export interface LessonNow extends LessonFolder {
  readonly revision: string;
}

/** How saving ended. */
export type Saved =
  | { readonly kind: 'saved'; readonly revision: string }
  /** It had changed since; nothing was written. `base`: the state that the new texts were made from, where it is still known. */
  | { readonly kind: 'changed'; readonly now: LessonNow; readonly base: LessonTexts | null };

/** What a save is made from. */
export interface SaveWish {
  /** The revision that the texts were made from. */
  readonly base: string;
  /** What is replaced becomes an earlier state, however young that is. */
  readonly keepsBefore?: boolean;
}

/** An earlier state of a lesson. */
export interface EarlierState {
  readonly mark: string;
  readonly when: Date;
  /** What differs from the state before it, in words. */
  readonly what: string;
}

/** Reading and saving lessons by their folders; whoever calls sees to it that one lesson is worked on by one at a time. */
export interface LessonKeeper {
  readonly read: (folder: string) => Promise<LessonNow>;
  readonly save: (folder: string, texts: LessonTexts, wish: SaveWish) => Promise<Saved>;
  /** Newest first. */
  readonly earlier: (folder: string) => Promise<readonly EarlierState[]>;
  /** Null: there is no such state. */
  readonly earlierTexts: (folder: string, mark: string) => Promise<LessonTexts | null>;
}

/** After a pause of so long, in milliseconds, the next save keeps the state before it. Ours. */
const PAUSE = 180_000;
/** Without a pause a state is kept at least so often, in milliseconds. Ours. */
const WITHOUT_PAUSE = 900_000;
/** Former states of a lesson that are remembered, to tell what two windows have in common. Ours. */
const REMEMBERED = 24;

/** What is known of a lesson since the program was started. */
interface Sitting {
  lastSave: number;
  lastCheckpoint: number;
  readonly former: Map<string, LessonTexts>;
}

const remember = (sitting: Sitting, revision: string, texts: LessonTexts): void => {
  sitting.former.delete(revision);
  sitting.former.set(revision, texts);
  const [oldest] = sitting.former.keys();
  if (sitting.former.size > REMEMBERED && oldest !== undefined) sitting.former.delete(oldest);
};

const earlierTexts = async (folder: string, mark: string, files: ShelfFiles): Promise<LessonTexts | null> => {
  const marks = await checkpointMarks(folder, files);
  if (!marks.includes(mark)) return null;
  return (await readLessonTexts(checkpointFolder(folder, mark), files)).texts;
};

const earlierStates = async (folder: string, files: ShelfFiles): Promise<readonly EarlierState[]> => {
  const marks = await checkpointMarks(folder, files);
  const texts = await Promise.all(marks.map((mark) => earlierTexts(folder, mark, files)));
  return marks.flatMap((mark, i) => {
    const when = whenOf(mark);
    const state = texts[i] ?? null;
    if (when === null || state === null) return [];
    return [{ mark, when, what: whatChanged(texts[i + 1] ?? null, state) }];
  });
};

/** The state of a revision, where it is remembered or among the earlier states. */
const stateOf = async (
  folder: string,
  revision: string,
  { former }: Sitting,
  files: ShelfFiles,
): Promise<LessonTexts | null> => {
  const known = former.get(revision);
  if (known !== undefined) return known;
  for (const mark of await checkpointMarks(folder, files)) {
    const texts = await earlierTexts(folder, mark, files);
    if (texts !== null && revisionOf(texts) === revision) return texts;
  }
  return null;
};

/**
 * Keeps the state before a save where it is time to. Where the files hold more than the texts they are kept in any case,
 * or nothing is saved.
 */
const keepFormer = async (
  folder: string,
  { lossless }: LessonNow,
  { sitting, now, asked }: { readonly sitting: Sitting; readonly now: Date; readonly asked: boolean },
  files: ShelfFiles,
): Promise<void> => {
  const time = now.getTime();
  const due = asked || time - sitting.lastSave >= PAUSE || time - sitting.lastCheckpoint >= WITHOUT_PAUSE;
  if (!due && lossless) return;
  try {
    await addCheckpoint(folder, now, files);
    sitting.lastCheckpoint = time;
  } catch (error) {
    if (lossless) return;
    const { message } = worldError('the files as they are could not be kept as an earlier state', error);
    throw new WorldError(`${message}, so nothing was written`, { cause: error });
  }
};

/** Keeps the lessons' texts and their earlier states. */
export const lessonKeeperOf = (files: ShelfFiles, now: () => Date): LessonKeeper => {
  const sittings = new Map<string, Sitting>();
  const sittingOf = (folder: string): Sitting => {
    const found = sittings.get(folder) ?? { lastSave: 0, lastCheckpoint: 0, former: new Map() };
    sittings.set(folder, found);
    return found;
  };
  const read = async (folder: string): Promise<LessonNow> => {
    try {
      await finishSave(folder, files);
    } catch (error) {
      throw worldError('the last save of this lesson could not be finished', error);
    }
    const lesson = await readLessonFolder(folder, files);
    const revision = revisionOf(lesson.texts);
    remember(sittingOf(folder), revision, lesson.texts);
    return { ...lesson, revision };
  };
  return {
    read,
    save: async (folder, texts, { base, keepsBefore = false }) => {
      const lesson = await read(folder);
      const revision = revisionOf(texts);
      // A page that asks again because the answer was lost is told that it is done.
      if (revision === lesson.revision) return { kind: 'saved', revision };
      const sitting = sittingOf(folder);
      if (base !== lesson.revision)
        return { kind: 'changed', now: lesson, base: await stateOf(folder, base, sitting, files) };
      await keepFormer(folder, lesson, { sitting, now: now(), asked: keepsBefore }, files);
      await saveTexts(folder, lesson.texts, texts, files);
      sitting.lastSave = now().getTime();
      remember(sitting, revision, texts);
      return { kind: 'saved', revision };
    },
    earlier: (folder) => earlierStates(folder, files),
    earlierTexts: (folder, mark) => earlierTexts(folder, mark, files),
  };
};
