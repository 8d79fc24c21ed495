import type { ShelfFiles } from './shelfFiles.ts';

/** Looks at the shelf whenever something may have changed there. */
export interface ShelfWatch {
  /** Looks at this folder closely from now on, as somebody works on what is in it. */
  readonly follow: (folder: string) => void;
  readonly close: () => void;
}

/** Several changes in a row are looked at once, after so long, in milliseconds. Ours. */
const SETTLING = 120;
/** Where nobody tells of changes, folders that are worked on are looked at so often, in milliseconds. Ours. */
const CLOSE_LOOK = 1000;
/** The whole shelf is looked at so often, in milliseconds, and rests so many times as long as a look takes. Ours. */
const WIDE_LOOK = { least: 4000, rest: 30 } as const;
/** Folders that are looked at closely: the last ones that were opened. Ours. */
const FOLLOWED = 12;

/**
 * Watches a shelf: the system tells of changes at once where it can, and looks from time to time find the rest, also on
 * network drives.
 * @param shelf - its folder
 * @param look - looks at one folder, or at all of them (null)
 */
export const watchShelf = (
  shelf: string,
  files: ShelfFiles,
  look: (folder: string | null) => Promise<void>,
): ShelfWatch => {
  const followed = new Map<string, (() => void) | null>();
  const waiting = new Map<string | null, NodeJS.Timeout>();
  let closed = false;
  const soon = (folder: string | null): void => {
    if (closed || waiting.has(folder)) return;
    const timer = setTimeout(() => {
      waiting.delete(folder);
      void look(folder);
    }, SETTLING);
    waiting.set(folder, timer.unref());
  };
  const stopRoot = files.watch(shelf, () => soon(null));
  const closeLook = setInterval(() => {
    for (const folder of followed.keys()) void look(folder);
  }, CLOSE_LOOK).unref();
  let wideLook: NodeJS.Timeout | undefined;
  const later = (milliseconds: number): void => {
    if (closed) return;
    wideLook = setTimeout(async () => {
      const began = performance.now();
      await look(null);
      later(Math.max(WIDE_LOOK.least, (performance.now() - began) * WIDE_LOOK.rest));
    }, milliseconds).unref();
  };
  later(WIDE_LOOK.least);
  return {
    follow: (folder) => {
      const before = followed.get(folder);
      followed.delete(folder);
      followed.set(folder, before ?? files.watch(folder, () => soon(folder)));
      const [oldest] = followed.keys();
      if (followed.size <= FOLLOWED || oldest === undefined) return;
      followed.get(oldest)?.();
      followed.delete(oldest);
    },
    close: () => {
      closed = true;
      clearInterval(closeLook);
      clearTimeout(wideLook);
      for (const timer of waiting.values()) clearTimeout(timer);
      stopRoot?.();
      for (const stop of followed.values()) stop?.();
    },
  };
};
