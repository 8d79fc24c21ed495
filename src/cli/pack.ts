import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { clockTime, DEFAULT_SETTINGS, type LessonSettings, lessonOf, type Paper } from '../lesson/index.ts';
import type { ReadTune } from '../notation/index.ts';
import { type BuildResult, buildPack, sourceOf } from '../pack/index.ts';
import { barsOf, notesOf, titleOf } from '../score/index.ts';
import { readLessonFile, readTextFile } from '../store/index.ts';
import { complain, EXIT, type Exit, type Io, say, UsageError } from './io.ts';
import { progressOn } from './progress.ts';
import { complainAll, hasError, pathFrom, readTunes, type TuneFile } from './readTunes.ts';

/** Help of `pack`. */
export const PACK_HELP = `tuneladder pack FILE.abc|LESSON --out DIR [options]

Makes a lesson pack: sheets (PDF), play-along tracks (MP3), notes, ABC, MusicXML, MIDI, one zip.
LESSON is a folder with tune.abc and lesson.json. DIR must be new, empty, or an earlier pack.

  --tune N                 which tune, by its number (X:), where the file holds several
  --tracks default|all     the ten tracks that a learner needs, or all twenty-one
  --times N                times through in a track, 1 to 9 (default 2)
  --paper a4|letter|both   paper of the sheets (default both)
  --teacher NAME           name at the foot of every sheet
  --date YYYY-MM-DD        date of the sheets (default today)
  --words british|us       crotchet or quarter note
  --anyway                 build although the tune has errors

Options given here win over lesson.json.`;

/** A pack of a longer tune than this would take hours; a tune book is meant for \`versions\`. Ours. */
const MOST_BARS = 2000;

const OPTIONS = {
  out: { type: 'string' },
  tune: { type: 'string' },
  tracks: { type: 'string', default: 'default' },
  times: { type: 'string' },
  paper: { type: 'string' },
  teacher: { type: 'string' },
  date: { type: 'string' },
  words: { type: 'string' },
  anyway: { type: 'boolean', default: false },
} as const;

const PAPERS: Readonly<Record<string, readonly Paper[]>> = {
  a4: ['A4'],
  letter: ['Letter'],
  both: ['A4', 'Letter'],
};

const wholeNumber = (option: string, text: string, least: number, most: number): number => {
  const value = Number(text);
  if (!/^\d+$/.test(text) || value < least || value > most) {
    throw new UsageError(`pack: --${option} takes a whole number from ${least} to ${most}, not "${text}"`);
  }
  return value;
};

const oneOf = <T extends string>(option: string, text: string, choices: readonly T[]): T => {
  const found = choices.find((c) => c === text);
  if (found === undefined)
    throw new UsageError(`pack: --${option} takes ${choices.join(', ')}, not "${text}"`);
  return found;
};

const isDate = (text: string): boolean =>
  /^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(Date.parse(`${text}T00:00:00Z`));

type Values = { [K in keyof typeof OPTIONS]?: string | boolean };

const settingsFrom = (values: Values, stored: LessonSettings): LessonSettings => {
  const text = (key: keyof Values): string | undefined =>
    typeof values[key] === 'string' ? values[key] : undefined;
  const date = text('date') ?? stored.date;
  if (!isDate(date)) throw new UsageError(`pack: --date takes a day like 2026-11-25, not "${date}"`);
  const times = text('times');
  const paper = text('paper');
  const words = text('words');
  return {
    ...stored,
    date,
    teacher: text('teacher') ?? stored.teacher,
    times: times === undefined ? stored.times : wholeNumber('times', times, 1, 9),
    papers:
      paper === undefined ? stored.papers : (PAPERS[oneOf('paper', paper, ['a4', 'letter', 'both'])] ?? []),
    words: words === undefined ? stored.words : oneOf('words', words, ['british', 'us']),
  };
};

const isFolder = async (path: string): Promise<boolean> => {
  try {
    return (await stat(path)).isDirectory();
  } catch {
    return false;
  }
};

const today = (io: Io): string => {
  const now = io.now();
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};

/** The tune's file and the stored settings of a lesson folder or a bare ABC file; null after a complaint. */
const openSource = async (
  name: string,
  io: Io,
): Promise<{ readonly file: TuneFile; readonly stored: LessonSettings } | null> => {
  const bare: LessonSettings = { ...DEFAULT_SETTINGS, date: today(io) };
  const path = pathFrom(io, name);
  if (!(await isFolder(path))) {
    const file = await readTunes(name, io);
    return file === null ? null : { file, stored: bare };
  }
  const lessonName = join(name, 'lesson.json');
  const text = await readTextFile(pathFrom(io, lessonName));
  if (text.kind === 'problem') {
    complain(io, `${lessonName}:1:1: ${text.message} A lesson is a folder with lesson.json and tune.abc.`);
    return null;
  }
  const read = readLessonFile(text.text);
  if (read.kind === 'problem') {
    for (const message of read.messages) complain(io, `${lessonName}:1:1: ${message}`);
    return null;
  }
  const file = await readTunes(join(name, 'tune.abc'), io);
  return file === null ? null : { file, stored: { ...read.settings, date: read.settings.date ?? bare.date } };
};

/** The tune to pack; null after a complaint. */
const chooseTune = (file: TuneFile, number: number | undefined, io: Io): ReadTune | null => {
  const { tunes } = file.book;
  const found = number === undefined ? tunes : tunes.filter((t) => t.score.number === number);
  const [tune] = found;
  if (tune === undefined) {
    complain(io, `${file.name}:1:1: there is no tune with the number ${number}.`);
    return null;
  }
  if (number === undefined && tunes.length > 1) {
    complain(
      io,
      `${file.name}:1:1: the file holds ${tunes.length} tunes. Say which one with --tune N (the number after X:).`,
    );
    return null;
  }
  if (notesOf(tune.score).length === 0) {
    complain(io, `${file.name}:1:1: the tune "${titleOf(tune.score)}" has no notes.`);
    return null;
  }
  const bars = barsOf(tune.score).length;
  if (bars > MOST_BARS) {
    complain(io, `${file.name}:1:1: the tune has ${bars} bars; a pack is made of at most ${MOST_BARS}.`);
    return null;
  }
  return tune;
};

const report = (
  result: BuildResult & { readonly kind: 'built' },
  out: string,
  seconds: number,
  io: Io,
): Exit => {
  const { manifest } = result;
  const old = manifest.files.filter((f) => f.state === 'old').length;
  say(io, `${manifest.title}: ${manifest.files.length} files in ${out} (${clockTime(seconds)})`);
  for (const file of manifest.files)
    say(io, `  ${file.path}  ${file.what}${file.state === 'old' ? '  (old: could not be made anew)' : ''}`);
  say(io, `  ${result.zip}  all of it, ${(result.bytes / 1e6).toFixed(1)} MB`);
  for (const failed of manifest.failed) complain(io, `could not make the ${failed.what}: ${failed.why}.`);
  if (old > 0) complain(io, `${old} files of the former pack were kept in their place.`);
  return manifest.failed.length === 0 ? EXIT.done : EXIT.world;
};

/** `tuneladder pack`. */
export const pack = async (argv: readonly string[], io: Io): Promise<Exit> => {
  const { values, positionals } = parseArgs({ args: [...argv], options: OPTIONS, allowPositionals: true });
  const [name, ...more] = positionals;
  if (name === undefined || more.length > 0)
    throw new UsageError('pack: name one ABC file or one lesson folder');
  if (values.out === undefined || values.out === '') throw new UsageError('pack: say where with --out DIR');
  const number = values.tune === undefined ? undefined : wholeNumber('tune', values.tune, 0, 1_000_000_000);
  const tracks = oneOf('tracks', values.tracks, ['default', 'all'] as const);
  const source = await openSource(name, io);
  if (source === null) return EXIT.input;
  const settings = settingsFrom(values, source.stored);
  const tune = chooseTune(source.file, number, io);
  if (tune === null) return EXIT.input;
  complainAll(
    io,
    source.file,
    tune.diagnostics.filter((d) => d.severity !== 'remark'),
  );
  if (hasError(tune.diagnostics) && !values.anyway) {
    complain(io, 'Nothing was built. Mend the errors, or build all the same with --anyway.');
    return EXIT.input;
  }
  const lesson = lessonOf(tune.score, settings);
  const progress = progressOn(io);
  const began = io.now().getTime();
  const out = pathFrom(io, values.out);
  const result = await buildPack(lesson, sourceOf(source.file.text, tune, settings, tracks), {
    out,
    signal: io.signal,
    onProgress: progress.show,
  }).finally(progress.clear);
  if (result.kind === 'refused') {
    complain(io, `${values.out}: ${result.message}`);
    return EXIT.input;
  }
  if (result.kind === 'nothing') {
    for (const failed of result.failed) complain(io, `could not make the ${failed.what}: ${failed.why}.`);
    complain(io, 'Nothing could be made. The target was left as it was.');
    return EXIT.world;
  }
  return report(result, values.out, (io.now().getTime() - began) / 1000, io);
};
