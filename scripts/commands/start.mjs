import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { ensureReady } from '../setup/ensureReady.mjs';
import { ROOT } from '../setup/places.mjs';
import { runNode } from '../setup/programs.mjs';
import { Stop } from '../setup/stop.mjs';

/** `npm start`: installs, builds, and opens the workbench. */
export const run = async (argv) => {
  const words = wordsOf(argv);
  await ensureReady();
  const { code } = await runNode([join('bin', 'tuneladder.mjs'), 'open', ...words], {
    cwd: ROOT,
    show: true,
  });
  return code;
};

const USAGE = 'Usage: npm start [-- --shelf FOLDER] [--port N] [--no-browser]';

/** What `tuneladder open` is given: a folder is meant from where the user stands. */
const wordsOf = (argv) => {
  try {
    const { values } = parseArgs({
      args: argv,
      options: {
        shelf: { type: 'string' },
        port: { type: 'string' },
        'no-browser': { type: 'boolean', default: false },
      },
    });
    return [
      ...(values.shelf === undefined ? [] : [resolve(process.env.INIT_CWD ?? process.cwd(), values.shelf)]),
      ...(values.port === undefined ? [] : ['--port', values.port]),
      ...(values['no-browser'] ? ['--no-browser'] : []),
    ];
  } catch {
    throw new Stop(USAGE);
  }
};
