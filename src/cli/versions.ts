import { parseArgs } from 'node:util';
import { DEFAULT_SETTINGS, type Lesson, lessonOf, slugOf, VERSION_IDS } from '../lesson/index.ts';
import { type ReadTune, writeAbc } from '../notation/index.ts';
import { notesOf, titleOf } from '../score/index.ts';
import { inspectTarget, MANIFEST_FILE, stageFolder } from '../store/index.ts';
import { reportOf } from '../versions/index.ts';
import { complain, EXIT, type Exit, type Io, say, UsageError } from './io.ts';
import { progressOn } from './progress.ts';
import { complainAll, hasError, pathFrom, readTunes, type TuneFile } from './readTunes.ts';

/** Help of `versions`. */
export const VERSIONS_HELP = `tuneladder versions FILE.abc [--out DIR] [--json]

Derives the bones, all the notes and the full version of every tune in the file.

  --out DIR   writes DIR/<number>-<title>/{bones,plain,full}.abc and report.json for each tune
              (DIR must be new, empty, or made by this command before)
  --json      one JSON document on standard output, nothing else

Without --out the versions are printed as ABC.`;

const VERSIONS_FORMAT = 'tuneladder-versions';

interface TuneVersions {
  readonly folder: string;
  readonly texts: Readonly<Record<(typeof VERSION_IDS)[number], string>>;
  readonly report: unknown;
}

const derive = (tune: ReadTune, folder: string): TuneVersions => {
  const lesson: Lesson = lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '' });
  const { bones, plain, full } = lesson.versions;
  return {
    folder,
    texts: { bones: writeAbc(bones), plain: writeAbc(plain), full: writeAbc(full) },
    report: {
      number: tune.score.number,
      title: titleOf(tune.score),
      dance: lesson.dance.name,
      danceJudged: lesson.danceJudged,
      ...reportOf(lesson.versions),
    },
  };
};

/** Folder names "12-the-title", with -2, -3 … where a name comes again. */
const folderNames = (tunes: readonly ReadTune[]): readonly string[] => {
  const seen = new Map<string, number>();
  return tunes.map(({ score }) => {
    const name = `${score.number}-${slugOf(titleOf(score))}`;
    const times = (seen.get(name) ?? 0) + 1;
    seen.set(name, times);
    return times === 1 ? name : `${name}-${times}`;
  });
};

/** Derives tune by tune, giving way to Ctrl-C between them. */
async function* deriveAll(tunes: readonly ReadTune[], io: Io): AsyncGenerator<TuneVersions> {
  const names = folderNames(tunes);
  for (const [i, tune] of tunes.entries()) {
    io.signal.throwIfAborted();
    yield derive(tune, names[i] ?? String(i));
    await new Promise((resolve) => setImmediate(resolve));
  }
}

const writeFolders = async (
  file: TuneFile,
  tunes: readonly ReadTune[],
  out: string,
  io: Io,
): Promise<Exit> => {
  const target = await inspectTarget(out, VERSIONS_FORMAT);
  if (target.kind === 'refused') {
    complain(io, `${out}: ${target.message}`);
    return EXIT.input;
  }
  const former = target.kind === 'ours' ? writtenBefore(target.manifest) : new Set<string>();
  const staging = await stageFolder(out);
  const progress = progressOn(io);
  try {
    const paths: string[] = [];
    for await (const made of deriveAll(tunes, io)) {
      progress.show(paths.length / 4 / tunes.length, made.folder);
      const files = [
        ...VERSION_IDS.map((id) => [`${made.folder}/${id}.abc`, made.texts[id]] as const),
        [`${made.folder}/report.json`, `${JSON.stringify(made.report, null, 2)}\n`] as const,
      ];
      for (const [path, text] of files) {
        await staging.write(path, text);
        paths.push(path);
      }
    }
    const manifest = { format: VERSIONS_FORMAT, version: 1, source: file.name, files: paths };
    await staging.write(MANIFEST_FILE, `${JSON.stringify(manifest, null, 2)}\n`);
    await staging.land((path) => path === MANIFEST_FILE || former.has(path));
  } finally {
    progress.clear();
    await staging.discard();
  }
  say(io, `${tunes.length} ${tunes.length === 1 ? 'tune' : 'tunes'}, three versions each, in ${out}`);
  return EXIT.done;
};

const writtenBefore = (manifest: unknown): ReadonlySet<string> => {
  const files =
    typeof manifest === 'object' && manifest !== null && 'files' in manifest ? manifest.files : [];
  return new Set(Array.isArray(files) ? files.filter((f): f is string => typeof f === 'string') : []);
};

/** `tuneladder versions`. */
export const versions = async (argv: readonly string[], io: Io): Promise<Exit> => {
  const { values, positionals } = parseArgs({
    args: [...argv],
    options: { out: { type: 'string' }, json: { type: 'boolean', default: false } },
    allowPositionals: true,
  });
  const [name, ...more] = positionals;
  if (name === undefined || more.length > 0) throw new UsageError('versions: name one ABC file');
  const file = await readTunes(name, io);
  if (file === null) return EXIT.input;
  const wrong = hasError(file.book.diagnostics);
  if (!values.json)
    complainAll(
      io,
      file,
      file.book.diagnostics.filter((d) => d.severity === 'error'),
    );
  const tunes = file.book.tunes.filter((t) => notesOf(t.score).length > 0);
  if (tunes.length < file.book.tunes.length && !values.json) {
    complain(
      io,
      `${name}: ${file.book.tunes.length - tunes.length} of the tunes have no notes and are left out.`,
    );
  }
  let exit: Exit = EXIT.done;
  if (values.out !== undefined)
    exit = await writeFolders(file, tunes, pathFrom(io, values.out), {
      ...io,
      stdout: values.json ? { write: () => undefined } : io.stdout,
    });
  if (values.json || values.out === undefined) {
    const made: TuneVersions[] = [];
    for await (const tune of deriveAll(tunes, io)) made.push(tune);
    if (values.json)
      say(
        io,
        JSON.stringify(
          { tunes: made.map(({ folder, texts, report }) => ({ folder, ...texts, report })) },
          null,
          2,
        ),
      );
    else for (const tune of made) say(io, VERSION_IDS.map((id) => tune.texts[id]).join('\n'));
  }
  return exit === EXIT.done && wrong ? EXIT.input : exit;
};
