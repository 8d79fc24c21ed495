import type { KeptFile } from '../store/index.ts';

/** What a command touches of the world: given to it, so that tests run it in process. */
export interface Io {
  readonly stdout: { readonly write: (text: string) => unknown };
  readonly stderr: {
    readonly write: (text: string) => unknown;
    readonly isTTY?: boolean;
    readonly columns?: number;
  };
  /** Relative paths are taken from here. */
  readonly cwd: string;
  /** Aborted by Ctrl-C. */
  readonly signal: AbortSignal;
  readonly now: () => Date;
}

/** How a command ends. */
export const EXIT = { done: 0, input: 1, usage: 2, world: 3, interrupted: 130 } as const;
/** An exit code. */
export type Exit = (typeof EXIT)[keyof typeof EXIT];

/** The command line was wrong: said with a hint at the command's own help. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

/** Prints one line on standard output. */
export const say = (io: Io, line = ''): void => {
  io.stdout.write(`${line}\n`);
};

/** Prints one line on standard error. */
export const complain = (io: Io, line: string): void => {
  io.stderr.write(`${line}\n`);
};

/** Says which files of somebody's own had to take another name beside the new ones. */
export const complainKept = (io: Io, kept: readonly KeptFile[]): void => {
  for (const { path, keptAs } of kept)
    complain(io, `${path} was put there or changed by hand: that file is kept as "${keptAs}".`);
};
