import type { SetAnswer, SetWish } from '../../protocol/index.ts';
import { Away, server } from '../server.ts';
import { messageOf } from '../shelf/useTuneText.ts';

/** Whether what is shown is saved; `trouble`: why not. */
export type SetSafety =
  | { readonly kind: 'saved' | 'saving' }
  | { readonly kind: 'unsaved'; readonly trouble: string };

/** Saves a set again and again as it is changed. */
export interface SetSaver {
  /** Something is to be saved. */
  readonly isDue: () => boolean;
  /** From now on this is to hold; it is saved after a pause. */
  readonly want: (wish: SetWish) => void;
  /** Saves what is due now. */
  readonly save: () => void;
  /** The set as it was read: what is saved next was changed from this. */
  readonly readAs: (revision: string) => void;
}

/** After a pause of so long in changing, it is saved; milliseconds. Ours. */
const PAUSE = 400;

/** What a saver tells. */
export interface SaverEvents {
  readonly onSafety: (safety: SetSafety) => void;
  readonly onSaved: (now: SetAnswer) => void;
  /** It was refused: the set is to be shown as it is on the shelf. */
  readonly onRefused: () => void;
}

/** A saver of one set. What is wanted while the server is away stays wanted. */
export const setSaverOf = (id: string, { onSafety, onSaved, onRefused }: SaverEvents): SetSaver => {
  let wanted: SetWish | null = null;
  let revision = '';
  let running = false;
  let waiting: ReturnType<typeof setTimeout> | undefined;

  const saveAll = async (): Promise<void> => {
    for (let wish = wanted; wish !== null; wish = wanted) {
      onSafety({ kind: 'saving' });
      try {
        const now = await server.saveSet(id, wish, revision);
        revision = now.revision;
        if (wanted === wish) wanted = null;
        onSaved(now);
      } catch (error) {
        onSafety({ kind: 'unsaved', trouble: messageOf(error) });
        if (error instanceof Away) return;
        wanted = null;
        onRefused();
        return;
      }
    }
    onSafety({ kind: 'saved' });
  };
  const save = (): void => {
    clearTimeout(waiting);
    if (running || wanted === null) return;
    running = true;
    void saveAll().finally(() => {
      running = false;
    });
  };
  return {
    isDue: () => wanted !== null,
    want: (wish) => {
      wanted = wish;
      onSafety({ kind: 'saving' });
      clearTimeout(waiting);
      waiting = setTimeout(save, PAUSE);
    },
    save,
    readAs: (read) => {
      if (!running) revision = read;
    },
  };
};
