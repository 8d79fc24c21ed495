import { WorldError } from '../store/index.ts';
import { CHECK_HELP, check } from './check.ts';
import { complain, EXIT, type Io, say, UsageError } from './io.ts';
import { PACK_HELP, pack } from './pack.ts';
import { VERSIONS_HELP, versions } from './versions.ts';

export type { Io } from './io.ts';

const HELP = `tuneladder: one tune in, a graded fiddle lesson out

  tuneladder check FILE.abc…                     what is wrong with a tune, and where
  tuneladder versions FILE.abc [--out DIR]       the bones, all the notes, the full version, as ABC
  tuneladder pack FILE.abc|LESSON --out DIR      sheets, play-along tracks, notes, one zip

tuneladder COMMAND --help tells more about a command.`;

type Command = { readonly run: (argv: readonly string[], io: Io) => Promise<number>; readonly help: string };

const COMMANDS: ReadonlyMap<string, Command> = new Map([
  ['check', { run: check, help: CHECK_HELP }],
  ['versions', { run: versions, help: VERSIONS_HELP }],
  ['pack', { run: pack, help: PACK_HELP }],
]);

const isArgumentError = (error: unknown): error is Error =>
  error instanceof Error && 'code' in error && String(error.code).startsWith('ERR_PARSE_ARGS');

/**
 * The command line.
 * @param argv - words after the program's name
 * @returns the exit code: 0 done, 1 the input is wrong, 2 the command line is wrong, 3 the world failed, 130 stopped by Ctrl-C
 */
export const main = async (argv: readonly string[], io: Io): Promise<number> => {
  const [name, ...rest] = argv;
  if (name === undefined || name === 'help' || name === '--help' || name === '-h') {
    const about = rest[0] === undefined ? undefined : COMMANDS.get(rest[0])?.help;
    say(io, about ?? HELP);
    return name === undefined ? EXIT.usage : EXIT.done;
  }
  const command = COMMANDS.get(name);
  if (command === undefined) {
    complain(io, `tuneladder: there is no command "${name}"; there are ${[...COMMANDS.keys()].join(', ')}.`);
    return EXIT.usage;
  }
  if (rest.includes('--help') || rest.includes('-h')) {
    say(io, command.help);
    return EXIT.done;
  }
  try {
    return await command.run(rest, io);
  } catch (error) {
    if (io.signal.aborted) {
      complain(io, 'Stopped. Nothing was changed.');
      return EXIT.interrupted;
    }
    if (error instanceof UsageError || isArgumentError(error)) {
      complain(io, `tuneladder ${error.message}\nSee: tuneladder ${name} --help`);
      return EXIT.usage;
    }
    if (error instanceof WorldError) {
      complain(io, `tuneladder: ${error.message}.`);
      return EXIT.world;
    }
    throw error;
  }
};
