import type { Patch } from './patch.ts';

/** One thing that the teacher did: the changes that it made, in order. */
export interface Step {
  readonly patches: readonly Patch[];
  /** What was done, for "Undo …". */
  readonly what: string;
  /** When, milliseconds. */
  readonly when: number;
}

/** What can be taken back, and what can be done again; the last one is next. */
export interface UndoStack {
  readonly done: readonly Step[];
  readonly undone: readonly Step[];
}

/** Typing in one place belongs together until a pause of so many milliseconds. Ours. */
const PAUSE = 700;

/** Nothing done yet. */
export const NOTHING_DONE: UndoStack = { done: [], undone: [] };

/** Whether a change goes on where the one before it ended. */
const goesOn = (before: Patch | undefined, now: Patch): boolean => {
  if (before === undefined || before.text !== now.text) return false;
  const typedOn = now.removed === '' && now.at === before.at + before.inserted.length;
  const deletedOn = now.inserted === '' && now.at + now.removed.length === before.at;
  return typedOn || deletedOn;
};

/** The stack with one more step; typing that goes on joins the step before. */
export const withStep = ({ done }: UndoStack, step: Step): UndoStack => {
  const last = done.at(-1);
  const [only, ...others] = step.patches;
  const joins =
    last !== undefined &&
    only !== undefined &&
    others.length === 0 &&
    last.what === step.what &&
    step.when - last.when < PAUSE &&
    goesOn(last.patches.at(-1), only);
  if (!joins) return { done: [...done, step], undone: [] };
  const joined: Step = { ...last, patches: [...last.patches, only], when: step.when };
  return { done: [...done.slice(0, -1), joined], undone: [] };
};
