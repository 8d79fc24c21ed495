import type { LessonTexts, StoredLesson } from '../../protocol/index.ts';
import { type DeskState, type DeskWorld, observed, same, textsOf, type Unsaved } from './deskState.ts';
import { mergedTexts } from './merge.ts';
import { backOf, type Patch, patchBetween, patched, type TextName } from './patch.ts';
import { Saver } from './saver.ts';
import { NOTHING_DONE, type UndoStack, withStep } from './undo.ts';

/** A lesson that is worked on: its texts, undo, and saving. Every change is a change of text. */
export interface LessonDesk {
  readonly state: () => DeskState;
  readonly subscribe: (tell: () => void) => () => void;
  /** Makes a text another one. `what` names the step for undo. */
  readonly write: (text: TextName, to: string, what: string) => void;
  /** Makes both texts others, as one step. */
  readonly writeBoth: (to: LessonTexts, what: string) => void;
  readonly undo: () => void;
  readonly redo: () => void;
  /** Ends a clash. */
  readonly settle: (whose: 'mine' | 'theirs') => void;
  /** The files have changed, perhaps by our own saving. */
  readonly hearOf: (revision: string) => void;
  /** The server answers again. */
  readonly wakeUp: () => void;
  readonly dismissNotice: () => void;
  readonly close: () => void;
}

const patchesBetween = (from: LessonTexts, to: LessonTexts): readonly Patch[] =>
  (['abc', 'settings'] as const).flatMap((name) => patchBetween(name, from[name], to[name]) ?? []);

/** The texts and the stack after one step back or forward; null: there is none. */
const moved = (
  { stack, texts }: DeskState,
  way: 'undo' | 'redo',
): Pick<DeskState, 'stack' | 'texts'> | null => {
  const last = (way === 'undo' ? stack.done : stack.undone).at(-1);
  if (last === undefined) return null;
  const patches = way === 'undo' ? last.patches.toReversed().map(backOf) : last.patches;
  const next: UndoStack =
    way === 'undo'
      ? { done: stack.done.slice(0, -1), undone: [...stack.undone, last] }
      : { done: [...stack.done, last], undone: stack.undone.slice(0, -1) };
  return { texts: patches.reduce(patched, texts), stack: next };
};

const onTheDesk = (stored: StoredLesson): DeskState => ({
  texts: textsOf(stored),
  stack: NOTHING_DONE,
  safety: 'saved',
  trouble: '',
  clash: null,
  notice: '',
});

/**
 * Puts a lesson on the desk.
 * @param unsaved - work that this browser had kept from an earlier sitting
 */
export const lessonDesk = (
  world: DeskWorld,
  stored: StoredLesson,
  unsaved: Unsaved | null = null,
): LessonDesk => {
  const state = observed(onTheDesk(stored));
  const { words } = world;

  const step = (to: LessonTexts, what: string): void => {
    const { texts, stack } = state.get();
    const patches = patchesBetween(texts, to);
    if (patches.length > 0)
      state.set({ texts: textsOf(to), stack: withStep(stack, { patches, what, when: world.now() }) });
    saver.changed();
  };
  /** Takes in what somebody else has saved. */
  const takeIn = (theirs: StoredLesson, base: LessonTexts): void => {
    const mine = state.get().texts;
    const merged = mergedTexts(mine, base, theirs);
    if (merged === null) {
      state.set({ clash: { theirs } });
      return;
    }
    const what = same(mine, base) ? words.fromElsewhere : words.mergedWithElsewhere;
    if (!same(merged, mine)) state.set({ notice: what });
    step(merged, what);
  };
  const saver = new Saver(world, { revision: stored.revision, texts: textsOf(stored) }, state, takeIn);
  const move = (way: 'undo' | 'redo'): void => {
    const next = moved(state.get(), way);
    if (next === null) return;
    state.set(next);
    saver.changed();
  };
  const settle = (whose: 'mine' | 'theirs'): void => {
    const { clash } = state.get();
    if (clash === null) return;
    state.set({ clash: null });
    if (whose === 'mine') {
      saver.keepBefore();
      saver.changed();
      saver.hurry();
    } else step(textsOf(clash.theirs), words.fromElsewhere);
  };
  const hearOf = async (revision: string): Promise<void> => {
    if (!saver.isCalm(revision)) return;
    const now = await world.load();
    if (saver.isCalm(now.revision)) takeIn(now, saver.rebase(now));
  };

  if (unsaved !== null && !same(unsaved.texts, stored)) {
    step(unsaved.texts, words.broughtBack);
    state.set({ notice: words.broughtBack });
    if (!same(unsaved.base, stored)) takeIn(stored, unsaved.base);
  }
  return {
    state: state.get,
    subscribe: state.subscribe,
    write: (text, to, what) => step({ ...state.get().texts, [text]: to }, what),
    writeBoth: step,
    undo: () => move('undo'),
    redo: () => move('redo'),
    settle,
    // Nobody waits for it: what is not fetched now comes with the next news or saving.
    hearOf: (revision) => void hearOf(revision).catch(() => undefined),
    wakeUp: () => {
      if (!saver.isSaved()) saver.hurry();
    },
    dismissNotice: () => state.set({ notice: '' }),
    close: () => saver.close(),
  };
};
