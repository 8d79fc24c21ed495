import { useCallback, useState } from 'react';
import type { SetWish } from '../../protocol/index.ts';

interface Wishes {
  readonly past: readonly SetWish[];
  /** Null: not known yet. */
  readonly now: SetWish | null;
  readonly future: readonly SetWish[];
}

/** What the teacher decides, and has decided before. */
export interface WishHistory {
  readonly now: SetWish | null;
  /** The set as it is on the shelf; nobody has decided that here. */
  readonly show: (wish: SetWish) => void;
  readonly change: (wish: SetWish) => void;
  readonly undo: (() => void) | null;
  readonly redo: (() => void) | null;
}

/** Undo without limit within the sitting. @param decided - called with what is to hold from now on */
export const useWishes = (decided: (wish: SetWish) => void): WishHistory => {
  const [{ past, now, future }, set] = useState<Wishes>({ past: [], now: null, future: [] });
  const show = useCallback(
    (wish: SetWish): void =>
      set((before) =>
        JSON.stringify(before.now) === JSON.stringify(wish) ? before : { ...before, now: wish },
      ),
    [],
  );
  const go = (next: Wishes & { readonly now: SetWish }): void => {
    set(next);
    decided(next.now);
  };
  const before = past.at(-1);
  const [after] = future;
  return {
    now,
    show,
    change: (wish) => go({ past: now === null ? past : [...past, now], now: wish, future: [] }),
    undo:
      before === undefined || now === null
        ? null
        : () => go({ past: past.slice(0, -1), now: before, future: [now, ...future] }),
    redo:
      after === undefined || now === null
        ? null
        : () => go({ past: [...past, now], now: after, future: future.slice(1) }),
  };
};
