import { diskFiles, type ShelfFiles } from '../shelfFiles.ts';

/** What happens at the nth file call from now on. */
export type Mishap =
  /** That call fails once, as a full disk or a folder that may not be written does. */
  | { readonly kind: 'fails'; readonly at: number; readonly code: string }
  /** The program is killed there: neither that call nor any later one does anything. */
  | { readonly kind: 'killed'; readonly at: number };

/** The disk with mishaps. */
export interface FailingFiles extends ShelfFiles {
  /** Begins to count anew. */
  readonly plan: (mishap: Mishap | null) => void;
  /** Calls since then that change something on the disk. */
  readonly count: () => number;
}

/** A disk whose changing calls fail as planned; reading always works while the program lives. */
export const failingFiles = (): FailingFiles => {
  let mishap: Mishap | null = null;
  let count = 0;
  const changing =
    <A extends readonly unknown[]>(call: (...args: A) => Promise<void>) =>
    async (...args: A): Promise<void> => {
      count += 1;
      if (mishap?.kind === 'killed' && count >= mishap.at) throw new Error('the program is dead');
      if (mishap?.kind === 'fails' && count === mishap.at)
        throw Object.assign(new Error(mishap.code), { code: mishap.code });
      await call(...args);
    };
  const reading =
    <A extends readonly unknown[], T>(call: (...args: A) => Promise<T>) =>
    async (...args: A): Promise<T> => {
      if (mishap?.kind === 'killed' && count >= mishap.at) throw new Error('the program is dead');
      return call(...args);
    };
  return {
    read: reading(diskFiles.read),
    about: reading(diskFiles.about),
    names: reading(diskFiles.names),
    write: changing(diskFiles.write),
    rename: changing(diskFiles.rename),
    settle: changing(diskFiles.settle),
    makeFolder: changing(diskFiles.makeFolder),
    remove: changing(diskFiles.remove),
    watch: () => null,
    plan: (next) => {
      mishap = next;
      count = 0;
    },
    count: () => count,
  };
};
