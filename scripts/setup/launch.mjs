import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { isCheckout } from './build.mjs';
import { ensureBuilt } from './ensureReady.mjs';
import { ROOT } from './places.mjs';

/** Exit codes of the command line that this file gives itself: the world failed; ended by a second Ctrl-C. */
const WORLD_FAILED = 3;
const INTERRUPTED = 130;

/** Runs the command line on a fresh build. Writes nothing to stdout itself. */
export const launch = async () => {
  const cause = await whyNotReady();
  if (cause !== null) {
    process.stderr.write(`${cause}\n`);
    process.exitCode = WORLD_FAILED;
    return;
  }
  // A reader that closes the pipe early (`| head`) has what it wanted.
  process.stdout.on('error', (error) => process.exit(error.code === 'EPIPE' ? 0 : WORLD_FAILED));
  const { main } = await import(pathToFileURL(entryOf()).href);
  try {
    process.exitCode = await main(process.argv.slice(2), ioOf(process));
  } catch (error) {
    process.stderr.write(`This is a fault in Tuneladder, please report it: ${error?.stack ?? error}\n`);
    process.exitCode = WORLD_FAILED;
  }
};

const entryOf = () => join(ROOT, 'dist', 'cli', 'main.js');

/** A sentence when there is nothing to run; null when the build is there and fresh. */
const whyNotReady = async () => {
  if (isCheckout(ROOT)) {
    const say = (sentence) => {
      if (process.stderr.isTTY) process.stderr.write(`${sentence}\n`);
    };
    try {
      const errors = await ensureBuilt({ root: ROOT, say, install: false });
      if (errors !== null) return `${errors}\nThe sources do not compile: see the errors above.`;
    } catch (error) {
      if (error.name === 'Stop') return error.message;
      throw error;
    }
  }
  return existsSync(entryOf())
    ? null
    : 'There is no command line in this build: dist/cli/main.js is missing.';
};

/** The world as `main` sees it. The first Ctrl-C (or SIGTERM) asks it to stop, the second one ends it. */
const ioOf = (node) => {
  const stop = new AbortController();
  const onSignal = () => {
    if (stop.signal.aborted) node.exit(INTERRUPTED);
    stop.abort();
  };
  node.on('SIGINT', onSignal);
  node.on('SIGTERM', onSignal);
  const { stdout, stderr } = node;
  return {
    stdout: { write: (text) => void stdout.write(text) },
    stderr: {
      write: (text) => void stderr.write(text),
      isTTY: stderr.isTTY === true,
      get columns() {
        return stderr.columns;
      },
    },
    cwd: node.cwd(),
    env: node.env,
    signal: stop.signal,
    now: () => new Date(),
  };
};
