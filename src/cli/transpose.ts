import { mkdir, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import {
  type Direction,
  lessonOf,
  rangeRemarks,
  transposedSettings,
  transpositionTo,
} from '../lesson/index.ts';
import { withSettings } from '../lessonfile/index.ts';
import { type Interval, keyName } from '../music/index.ts';
import { type ReadTune, readAbc, readKeyName, transposedAbc } from '../notation/index.ts';
import { writeWhole } from '../store/index.ts';
import { chooseTune } from './chooseTune.ts';
import { complain, EXIT, type Exit, type Io, say, UsageError } from './io.ts';
import { oneOf } from './oneOf.ts';
import { openSource, type Source } from './openSource.ts';
import { wholeNumber } from './packOptions.ts';
import { pathFrom } from './readTunes.ts';

/** Help of `transpose`. */
export const TRANSPOSE_HELP = `tuneladder transpose FILE.abc|LESSON --to KEY [options]

Moves a tune to another key: notes, grace notes, chord symbols, keys. Everything else in the text stays as
it is; written fingers are left out. Of a lesson kept bars, accepted ornaments and own notes move along.

  --to KEY           "D", "Bb"; with a mode ("Ador") it has to be the tune's own
  --octave up|down   up or down to that key; default: where it lies best on the fiddle. With the tune's
                     own key: an octave
  --out FILE         writes the text there; of a LESSON a new lesson folder. Default: the text is printed
  --tune N           which tune, by its number (X:), where the file holds several`;

const OPTIONS = {
  to: { type: 'string' },
  octave: { type: 'string' },
  out: { type: 'string' },
  tune: { type: 'string' },
} as const;

/** By what the tune is to be moved; null after a complaint. */
const intervalFor = (
  name: string,
  { score }: ReadTune,
  { to, direction }: { readonly to: string; readonly direction: Direction },
  io: Io,
): Interval | null => {
  const asked = readKeyName(to);
  if (asked === null) throw new UsageError(`transpose: --to takes a key like D, Bb or Ador, not "${to}"`);
  if (score.key.tonic === null) {
    complain(io, `${name}: the tune has no keynote (${keyName(score.key)}). Write its key with K: first.`);
    return null;
  }
  if (asked.mode !== null && asked.mode !== score.key.mode) {
    complain(
      io,
      `${name}: the tune is in ${keyName(score.key)}, and moving it does not change its mode. Say the keynote alone.`,
    );
    return null;
  }
  const interval = transpositionTo(score, asked.tonic, direction);
  if (interval === null)
    complain(
      io,
      `${name}: the tune is in ${keyName(score.key)} already. With --octave up or down it is moved an octave.`,
    );
  return interval;
};

/** Whether a new lesson may be made there. */
const isFree = async (path: string): Promise<boolean> => {
  try {
    return (await readdir(path)).length === 0;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'ENOENT';
  }
};

/** The lesson in its new key, in a folder of its own. */
const writeLesson = async (
  source: Source & { readonly lessonFile: NonNullable<Source['lessonFile']> },
  { abc, interval, out }: { readonly abc: string; readonly interval: Interval; readonly out: string },
  io: Io,
): Promise<Exit> => {
  if (!(await isFree(pathFrom(io, out)))) {
    complain(io, `${out}: there is something already. Name a folder that is new or empty.`);
    return EXIT.input;
  }
  const moved = transposedSettings(source.stored, interval);
  const changed = withSettings(source.lessonFile.text, { ...moved, recordings: [] });
  if (changed.kind === 'problem') {
    for (const { message } of changed.problems) complain(io, `${source.lessonFile.name}: ${message}`);
    return EXIT.input;
  }
  await mkdir(pathFrom(io, out), { recursive: true });
  await writeWhole(pathFrom(io, join(out, 'tune.abc')), abc, join(out, 'tune.abc'));
  await writeWhole(pathFrom(io, join(out, 'lesson.json')), changed.text, join(out, 'lesson.json'));
  const [tune] = readAbc(abc).tunes;
  if (tune === undefined) throw new RangeError('the moved text holds no tune');
  const { ornamentsLeft } = lessonOf(tune.score, { ...source.stored, ...moved });
  for (const { anchor, kind } of ornamentsLeft)
    complain(
      io,
      `${out}: an accepted ornament (${kind}) in part ${anchor.part} has no place in this key; it waits in lesson.json.`,
    );
  if (source.stored.recordings.length > 0)
    complain(io, `${out}: the recordings are in the old key and stay behind.`);
  say(io, `${out}: the lesson in ${keyName(tune.score.key)}.`);
  return EXIT.done;
};

/** `tuneladder transpose`. */
export const transpose = async (argv: readonly string[], io: Io): Promise<Exit> => {
  const { values, positionals } = parseArgs({ args: [...argv], options: OPTIONS, allowPositionals: true });
  const [name, ...more] = positionals;
  if (name === undefined || more.length > 0)
    throw new UsageError('transpose: name one ABC file or one lesson folder');
  const { to, octave, out } = values;
  if (to === undefined || to === '') throw new UsageError('transpose: say which key with --to KEY');
  const direction =
    octave === undefined ? 'near' : oneOf('transpose: --octave', octave, ['up', 'down'] as const);
  const number = values.tune === undefined ? undefined : wholeNumber('tune', values.tune, 0, 1_000_000_000);
  const source = await openSource(name, io);
  if (source === null) return EXIT.input;
  const tune = chooseTune(source.file, { number, times: 1 }, io);
  if (tune === null) return EXIT.input;
  const interval = intervalFor(name, tune, { to, direction }, io);
  if (interval === null) return EXIT.input;
  const moved = transposedAbc(source.file.text, tune.span, interval);
  if (moved.kind === 'problem') {
    complain(io, `${name}: ${moved.message}`);
    return EXIT.input;
  }
  const now = readAbc(moved.text).tunes.find((one) => one.span.start === tune.span.start);
  if (moved.fingersLeftOut > 0)
    complain(
      io,
      `remark: written fingers were left out (${moved.fingersLeftOut}); in this key they are others.`,
    );
  for (const remark of now === undefined ? [] : rangeRemarks(now.score, source.stored.words))
    complain(io, `remark: ${remark}`);
  const { lessonFile } = source;
  if (out !== undefined && out !== '' && lessonFile !== null)
    return writeLesson({ ...source, lessonFile }, { abc: moved.text, interval, out }, io);
  if (out === undefined || out === '') io.stdout.write(moved.text);
  else {
    await writeWhole(pathFrom(io, out), moved.text, out);
    say(io, `${out}: the tune in ${keyName((now ?? tune).score.key)}.`);
  }
  return EXIT.done;
};
