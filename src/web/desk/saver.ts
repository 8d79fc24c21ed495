import type { LessonTexts, StoredLesson } from '../../protocol/index.ts';
import { type DeskWorld, type Observed, same, textsOf } from './deskState.ts';

/** Saved after a pause of so many milliseconds, and tried again after so many. Ours. */
const PAUSE = 350;
const AGAIN = { first: 800, most: 8000 } as const;

/** What the server has, and what it is called there. */
interface Base {
  readonly revision: string;
  readonly texts: LessonTexts;
}

/**
 * Sends the texts to the server whenever they differ from what it has, one request at a time.
 *
 * What is not saved is kept in the browser from the first keystroke on; a failure is tried again, ever more slowly.
 */
export class Saver {
  readonly #world: DeskWorld;
  readonly #state: Observed;
  /** Takes in what somebody else has saved meanwhile. */
  readonly #takeIn: (theirs: StoredLesson, base: LessonTexts) => void;
  #base: Base;
  #callOff: (() => void) | null = null;
  #sending = false;
  #wait: number = AGAIN.first;
  #closed = false;
  #keepsBefore = false;

  constructor(
    world: DeskWorld,
    start: Base,
    state: Observed,
    takeIn: (theirs: StoredLesson, base: LessonTexts) => void,
  ) {
    this.#world = world;
    this.#base = start;
    this.#state = state;
    this.#takeIn = takeIn;
  }

  /** The texts have changed. */
  changed(): void {
    const { texts, safety, clash } = this.#state.get();
    const isSaved = this.isSaved();
    const { revision, texts: base } = this.#base;
    this.#world.keep(isSaved ? null : { revision, base, texts: textsOf(texts) });
    if (isSaved) this.#state.set({ safety: 'saved', trouble: '' });
    else {
      if (safety === 'saved') this.#state.set({ safety: 'saving' });
      if (!this.#sending && clash === null) this.#plan(PAUSE);
    }
  }

  isSaved(): boolean {
    return same(this.#base.texts, this.#state.get().texts);
  }

  /** Whether news of another revision is none of our own doing, and nothing here is under way. */
  isCalm(revision: string): boolean {
    return revision !== this.#base.revision && !this.#sending && this.isSaved();
  }

  /** The server's texts are these now. @returns what they were */
  rebase(now: StoredLesson): LessonTexts {
    const before = this.#base.texts;
    this.#base = { revision: now.revision, texts: textsOf(now) };
    return before;
  }

  /** The next saving makes an earlier state of what it replaces. */
  keepBefore(): void {
    this.#keepsBefore = true;
  }

  /** Sends without waiting for a pause. */
  hurry(): void {
    this.#plan(0);
  }

  close(): void {
    this.#closed = true;
    this.#callOff?.();
  }

  #plan(milliseconds: number): void {
    this.#callOff?.();
    this.#callOff = this.#closed ? null : this.#world.later(() => void this.#send(), milliseconds);
  }

  async #send(): Promise<void> {
    if (this.#sending || this.#closed || this.#state.get().clash !== null || this.isSaved()) return;
    this.#sending = true;
    const texts = textsOf(this.#state.get().texts);
    const keeps = this.#keepsBefore ? { keepsBefore: true } : {};
    try {
      const answer = await this.#world.save({ ...texts, base: this.#base.revision, ...keeps });
      this.#sending = false;
      this.#wait = AGAIN.first;
      if (answer.kind === 'changed') {
        this.#takeIn(answer.now, this.rebase(answer.now));
        return;
      }
      this.#keepsBefore = false;
      this.#base = { revision: answer.revision, texts };
      this.changed();
    } catch (error) {
      this.#sending = false;
      this.#failed(error);
    }
  }

  #failed(error: unknown): void {
    const trouble = error instanceof Error ? error.message : String(error);
    this.#state.set({ safety: this.#world.isAway(error) ? 'waiting' : 'refused', trouble });
    this.#plan(this.#wait);
    this.#wait = Math.min(AGAIN.most, this.#wait * 2);
  }
}
