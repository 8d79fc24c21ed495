import { WorldError } from '../store/index.ts';
import { CHECK_HELP, check } from './check.ts';
import { complain, EXIT, type Io, say, UsageError } from './io.ts';
import { KEEP_HELP, keep } from './keep.ts';
import { LISTEN_HELP, listen } from './listen.ts';
import { OPEN_HELP, open } from './open.ts';
import { PACK_HELP, pack } from './pack.ts';
import { SET_HELP, set } from './set.ts';
import { TRANSPOSE_HELP, transpose } from './transpose.ts';
import { VERSIONS_HELP, versions } from './versions.ts';

export type { Io } from './io.ts';

const HELP = `tuneladder: one tune in, a graded fiddle lesson out

  tuneladder open [SHELF]                        the workbench in your browser
  tuneladder check FILE.abc…                     what is wrong with a tune, and where
  tuneladder versions FILE.abc [--out DIR]       the bones, all the notes, the full version, as ABC
  tuneladder keep LESSON [--bar N [NOTES]]       bars of the bones in your own words
  tuneladder pack FILE.abc|LESSON --out DIR      sheets, play-along tracks, notes, one zip
  tuneladder transpose FILE.abc|LESSON --to KEY  the tune in another key
  tuneladder set LESSON LESSON… --out DIR        lessons in a row: one sheet, one set of tracks
  tuneladder listen RECORDING [--tune FILE]      tuning, tempo, swing, bars, a draft of the notes; slower

tuneladder COMMAND --help tells more about a command.`;

type Command = { readonly run: (argv: readonly string[], io: Io) => Promise<number>; readonly help: string };

const COMMANDS: ReadonlyMap<string, Command> = new Map([
  ['open', { run: open, help: OPEN_HELP }],
  ['check', { run: check, help: CHECK_HELP }],
  ['versions', { run: versions, help: VERSIONS_HELP }],
  ['keep', { run: keep, help: KEEP_HELP }],
  ['pack', { run: pack, help: PACK_HELP }],
  ['transpose', { run: transpose, help: TRANSPOSE_HELP }],
  ['set', { run: set, help: SET_HELP }],
  ['listen', { run: listen, help: LISTEN_HELP }],
]);

/** What Node's reader of arguments complains of, in our words; null for any other error. */
const argumentProblem = (error: unknown): string | null => {
  if (!(error instanceof Error && 'code' in error)) return null;
  const option = /'(-[^\s'=]*)/.exec(error.message)?.[1] ?? 'an option';
  switch (error.code) {
    case 'ERR_PARSE_ARGS_UNKNOWN_OPTION':
      return `there is no option ${option}`;
    case 'ERR_PARSE_ARGS_INVALID_OPTION_VALUE':
      return error.message.includes('does not take') ? `${option} takes no value` : `${option} needs a value`;
    default:
      return null;
  }
};

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
    const problem = argumentProblem(error);
    if (error instanceof UsageError || problem !== null) {
      const usage = error instanceof UsageError ? error.message : `${name}: ${problem}`;
      complain(io, `tuneladder ${usage}.\nSee: tuneladder ${name} --help`);
      return EXIT.usage;
    }
    if (error instanceof WorldError) {
      complain(io, `tuneladder: ${error.message}.`);
      return EXIT.world;
    }
    throw error;
  }
};
