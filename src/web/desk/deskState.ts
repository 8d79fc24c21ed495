import type { LessonTexts, SaveAnswer, SaveRequest, StoredLesson } from '../../protocol/index.ts';
import type { UndoStack } from './undo.ts';

/** How safe the lesson is. */
export type Safety =
  /** On the disk. */
  | 'saved'
  /** On its way. */
  | 'saving'
  /** The server does not answer: kept in this browser, and sent again. */
  | 'waiting'
  /** The server cannot write: kept in this browser, and tried again. */
  | 'refused';

/** The lesson's texts were changed elsewhere in the same lines. */
interface Clash {
  readonly theirs: StoredLesson;
}

/** What the page sees of a lesson that is worked on. */
export interface DeskState {
  readonly texts: LessonTexts;
  readonly stack: UndoStack;
  readonly safety: Safety;
  /** Why it cannot be saved; empty: it can. */
  readonly trouble: string;
  readonly clash: Clash | null;
  /** Something to tell once, as that changes from elsewhere have come in; empty: nothing. */
  readonly notice: string;
}

/** What the desk says. */
interface DeskWords {
  readonly fromElsewhere: string;
  readonly mergedWithElsewhere: string;
  readonly broughtBack: string;
}

/** Work that the server has not got yet, and what it was made from. */
export interface Unsaved {
  readonly revision: string;
  readonly base: LessonTexts;
  readonly texts: LessonTexts;
}

/** What the desk needs of the world. */
export interface DeskWorld {
  readonly save: (request: SaveRequest) => Promise<SaveAnswer>;
  readonly load: () => Promise<StoredLesson>;
  /** Keeps what is not saved yet in this browser; null: nothing is left to keep. */
  readonly keep: (unsaved: Unsaved | null) => void;
  readonly now: () => number;
  /** Runs something later; answers with what calls it off. */
  readonly later: (act: () => void, milliseconds: number) => () => void;
  /** Whether a failure means that nobody answered. */
  readonly isAway: (error: unknown) => boolean;
  readonly words: DeskWords;
}

/** Whether two states of a lesson are the same. */
export const same = (a: LessonTexts, b: LessonTexts): boolean => a.abc === b.abc && a.settings === b.settings;

/** The texts alone of something that has them. */
export const textsOf = ({ abc, settings }: LessonTexts): LessonTexts => ({ abc, settings });

/** A state, and who is told when it changes. */
export interface Observed {
  readonly get: () => DeskState;
  readonly set: (next: Partial<DeskState>) => void;
  readonly subscribe: (tell: () => void) => () => void;
}

/** Makes a state that others can follow. */
export const observed = (first: DeskState): Observed => {
  let state = first;
  const listeners = new Set<() => void>();
  return {
    get: () => state,
    set: (next) => {
      state = { ...state, ...next };
      for (const tell of listeners) tell();
    },
    subscribe: (tell) => {
      listeners.add(tell);
      return () => void listeners.delete(tell);
    },
  };
};
