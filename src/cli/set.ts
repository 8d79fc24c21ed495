import { basename, dirname, join } from 'node:path';
import { parseArgs } from 'node:util';
import { type Lesson, lessonOf } from '../lesson/index.ts';
import { readSetFile, type StoredSet, writeSetFile } from '../lessonfile/index.ts';
import { buildSet, type PackSource, type SetSource, sourceOf } from '../pack/index.ts';
import { SET_LENGTH, setProblems } from '../sets/index.ts';
import { readTextFile, writeWhole } from '../store/index.ts';
import { reportBuild } from './buildReport.ts';
import { chooseTune } from './chooseTune.ts';
import { complain, EXIT, type Exit, type Io, say, UsageError } from './io.ts';
import { openSource } from './openSource.ts';
import { progressOn } from './progress.ts';
import { complainAll, hasError, pathFrom } from './readTunes.ts';
import { planFrom, SET_OPTIONS, type SetValues, type WholeSet, wholeSetFrom } from './setOptions.ts';

/** Help of `set`. */
export const SET_HELP = `tuneladder set LESSON LESSON… --out DIR [options]
tuneladder set SET.json --out DIR [options]

Two to four lessons played in a row: one sheet, one set of tracks, the set in words, one zip. The next
tune's pick-up lies in the last bar of the one before, and a chord there leads on to it.
LESSON is a lesson folder or an ABC file with one tune. SET.json is a set that --save has stored; its
lessons are looked for in the folder above its own. DIR must be new, empty, or an earlier pack.

  --title TEXT             what the set is called (default the tunes' titles)
  --times N,N…             times through each tune, 1 to 9; one number is for all (default 2)
  --tempo N,N…             beats a minute up to speed, in each dance's beat; steady follows in measure
                           (default each lesson's)
  --plays VERSION          what is printed and played: bones, plain, full (default the fullest)
  --paper a4|letter|both   paper of the sheet (default the first lesson's)
  --teacher NAME           name at the foot of the sheet (default the first lesson's)
  --date YYYY-MM-DD        date of the sheet (default the first lesson's)
  --save FILE.json         stores the set, on a shelf as sets/NAME.json; may stand without --out`;

/** The set as it is before the command line's options: from a file, or lessons by their paths. */
interface Asked {
  readonly set: StoredSet;
  /** Paths of the lessons. */
  readonly paths: readonly string[];
}

const storedSet = async (name: string, io: Io): Promise<Asked | null> => {
  const file = await readTextFile(pathFrom(io, name));
  if (file.kind === 'problem') {
    complain(io, `${name}:1:1: ${file.message}`);
    return null;
  }
  const read = readSetFile(file.text);
  if (read.kind === 'problem') {
    for (const { line, column, message } of read.problems)
      complain(io, `${name}:${line}:${column}: ${message}`);
    return null;
  }
  const shelf = join(dirname(name), '..');
  return { set: read.set, paths: read.set.lessons.map((lesson) => join(shelf, lesson)) };
};

const askedSet = async (names: readonly string[], io: Io): Promise<Asked | null> => {
  const [first] = names;
  if (names.length === 1 && first?.endsWith('.json') === true) return storedSet(first, io);
  if (names.length < SET_LENGTH.least || names.length > SET_LENGTH.most)
    throw new UsageError('set: name two to four lessons, or the file of a set');
  const tunes = names.map(() => ({ times: 2, tempos: {}, turn: null }));
  const plan = { title: '', version: null, tunes };
  return { set: { lessons: names.map((name) => basename(name)), plan }, paths: names };
};

/** A lesson of the set and what its workers need of it; null after a complaint. */
const openLesson = async (
  path: string,
  { times, whole }: { readonly times: number; readonly whole: WholeSet },
  io: Io,
): Promise<{ readonly lesson: Lesson; readonly source: PackSource } | null> => {
  const source = await openSource(path, io);
  if (source === null) return null;
  const tune = chooseTune(source.file, { number: undefined, times }, io);
  if (tune === null) return null;
  const serious = tune.diagnostics.filter((d) => d.severity !== 'remark');
  complainAll(io, source.file, serious);
  if (hasError(tune.diagnostics)) {
    complain(io, 'Nothing was built. Mend the errors first.');
    return null;
  }
  const settings = { ...source.stored, ...whole };
  return {
    lesson: lessonOf(tune.score, settings),
    source: sourceOf(source.file.text, tune, settings, 'default'),
  };
};

const save = async (name: string, set: StoredSet, io: Io): Promise<void> => {
  await writeWhole(pathFrom(io, name), writeSetFile(set), name);
  say(io, `The set is stored in ${name}.`);
};

const build = async (source: SetSource, name: string, io: Io): Promise<Exit> => {
  const progress = progressOn(io);
  const began = io.now().getTime();
  const result = await buildSet(source, {
    out: pathFrom(io, name),
    signal: io.signal,
    onProgress: progress.show,
  }).finally(progress.clear);
  const seconds = (io.now().getTime() - began) / 1000;
  return reportBuild(result, { out: name, seconds, only: null }, io);
};

/** `tuneladder set`. */
export const set = async (argv: readonly string[], io: Io): Promise<Exit> => {
  const { values, positionals } = parseArgs({
    args: [...argv],
    options: SET_OPTIONS,
    allowPositionals: true,
  });
  const { out, save: saveAs }: SetValues = values;
  if ((out ?? '') === '' && (saveAs ?? '') === '')
    throw new UsageError('set: say where with --out DIR, or store it with --save FILE');
  const whole = wholeSetFrom(values);
  const asked = await askedSet(positionals, io);
  if (asked === null) return EXIT.input;
  const plan = planFrom(values, asked.set.plan);
  const opened = [];
  for (const [i, path] of asked.paths.entries()) {
    const one = await openLesson(path, { times: plan.tunes[i]?.times ?? 1, whole }, io);
    if (one === null) return EXIT.input;
    opened.push(one);
  }
  const problems = setProblems(
    opened.map(({ lesson }) => lesson),
    plan,
  );
  for (const problem of problems) complain(io, problem);
  if (problems.length > 0) return EXIT.input;
  if (saveAs !== undefined && saveAs !== '') await save(saveAs, { lessons: asked.set.lessons, plan }, io);
  if (out === undefined || out === '') return EXIT.done;
  return build({ lessons: opened.map(({ source }) => source), plan }, out, io);
};
