import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Io } from '../src/cli/main.ts';
import { ROOT } from './house.ts';

/** What a run of the command line left: exit code and what it printed. */
export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

type Main = (argv: readonly string[], io: Io) => Promise<number>;

/** The built command line: worker threads need the build, not the sources. */
const builtMain = async (): Promise<Main> => {
  const path = join(ROOT, 'dist/cli/main.js');
  if (!existsSync(path)) throw new Error('dist/cli/main.js is missing: run npm run build');
  return ((await import(pathToFileURL(path).href)) as { readonly main: Main }).main;
};

/** Runs the built command line in this process; the day is always 31 January 2026. */
export const run = async (argv: readonly string[], cwd: string, io: Partial<Io> = {}): Promise<Ran> => {
  const main = await builtMain();
  let out = '';
  let err = '';
  const code = await main(argv, {
    stdout: { write: (text) => (out += text) },
    stderr: { write: (text) => (err += text) },
    cwd,
    signal: new AbortController().signal,
    now: () => new Date(2026, 0, 31, 12),
    ...io,
  });
  return { code, out, err };
};

/** A folder of its own for a test, and how to take it away. */
export const workRoom = async (): Promise<{ readonly path: string; readonly leave: () => Promise<void> }> => {
  const path = await mkdtemp(join(tmpdir(), 'tuneladder-run-'));
  return { path, leave: () => rm(path, { recursive: true, force: true }) };
};
