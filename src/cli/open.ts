import { homedir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { startServer } from '../server/index.ts';
import { EXIT, type Exit, type Io, say, UsageError } from './io.ts';
import { openBrowser } from './openBrowser.ts';
import { pathFrom } from './readTunes.ts';

/** Help of `open`. */
export const OPEN_HELP = `tuneladder open [SHELF] [options]

Opens the workbench in your browser: your lessons, the ladder, play, pack. Only this computer reaches it.
SHELF is the folder of your lessons (default Tuneladder in your home); a new one begins with the demo lessons.

  --port N                 the port to begin with (default 4717); the next one that is free is taken
  --no-browser             print the address only

Ctrl-C ends it. Whatever the page shows as saved is on the disk.`;

/** The folder of lessons where none is named, in the user's home. */
const USUAL_SHELF = 'Tuneladder';

const portFrom = (text: string | undefined): number | undefined => {
  if (text === undefined) return undefined;
  const port = Number(text);
  if (!/^\d+$/.test(text) || port < 1 || port > 65_535)
    throw new UsageError(`open: --port takes a whole number from 1 to 65535, not "${text}"`);
  return port;
};

const stopped = (signal: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    if (signal.aborted) resolve();
    else signal.addEventListener('abort', () => resolve(), { once: true });
  });

/** `tuneladder open`. */
export const open = async (argv: readonly string[], io: Io): Promise<Exit> => {
  const { values, positionals } = parseArgs({
    args: [...argv],
    options: { port: { type: 'string' }, 'no-browser': { type: 'boolean', default: false } },
    allowPositionals: true,
  });
  const [name, ...more] = positionals;
  if (more.length > 0) throw new UsageError('open: name one folder of lessons, or none');
  const port = portFrom(values.port);
  const server = await startServer({
    shelf: name === undefined ? join(homedir(), USUAL_SHELF) : pathFrom(io, name),
    ...(port === undefined ? {} : { port }),
    now: io.now,
  });
  say(io, `Your lessons: ${server.shownFolder}`);
  say(io, `The workbench: ${server.address}`);
  say(io, 'Ctrl-C ends it.');
  if (!values['no-browser']) openBrowser(server.address);
  await stopped(io.signal);
  await server.close();
  say(io, 'Closed. Everything that was shown as saved is on the disk.');
  return EXIT.done;
};
