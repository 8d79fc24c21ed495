import { parseArgs } from 'node:util';
import { placeFinder } from '../core/index.ts';
import { handMarksOf, withHandMarks } from '../fiddle/index.ts';
import {
  fingeringOptionsOf,
  groupFits,
  keptRemarks,
  type LessonSettings,
  lessonOf,
  manyVersions,
  type SuggestionNote,
  slugOf,
  suggestionNotesOf,
  togetherFit,
  type VersionId,
} from '../lesson/index.ts';
import { type ReadTune, writeAbc } from '../notation/index.ts';
import { notesOf, type Score, titleOf } from '../score/index.ts';
import { inspectTarget, MANIFEST_FILE, type Staging, stageFolder } from '../store/index.ts';
import { reportOf } from '../versions/index.ts';
import { HAND_OPTIONS, handsFrom } from './handOptions.ts';
import { handsReport } from './handsReport.ts';
import { complain, complainKept, EXIT, type Exit, type Io, say, UsageError } from './io.ts';
import { openSource } from './openSource.ts';
import { progressOn } from './progress.ts';
import { complainAll, diagnosticsJson, hasError, pathFrom, type TuneFile } from './readTunes.ts';
import { type Asked, askedFor, suggestionLines } from './suggest.ts';

/** Help of `versions`. */
export const VERSIONS_HELP = `tuneladder versions FILE.abc|LESSON [--out DIR] [options] [--json]

Derives the bones, all the notes and the full version of every tune in the file. Of a lesson folder (tune.abc and
lesson.json) it makes the versions that the lesson lists, with its kept bars. What clashes on a beat is said.

  --out DIR   writes DIR/<number>-<title>/{bones,plain,full}.abc and report.json for each tune
              (DIR must be new, empty, or made by this command before)
  --suggest few|usual|many
              says which ornaments a fiddler might play, where, why and how: three, six or eight in
              eight bars; in report.json with what lesson.json takes to accept each
  --vary      suggests another one every second time that a bar comes
  --marks M   fingers (!1!) and bows (u, v) in the ABC: none but the written, some more, or all (default none)
  --slurs S   slurs of all the notes: written, separate, on-the-beat, into-the-beat, hooked (default written)
  --position 1|3, --tuning GDAE|AEAE|ADAE|GDGD   for the fingers
  --json      one JSON document on standard output, nothing else

Without --out the versions are printed as ABC, suggestions as comments after it. Exit code 1 when the file has an error; the versions are made all the same.`;

const VERSIONS_FORMAT = 'tuneladder-versions';

interface TuneVersions {
  readonly folder: string;
  /** ABC by version, simplest first. */
  readonly texts: Readonly<Record<VersionId, string>>;
  readonly suggestions: readonly SuggestionNote[];
  readonly report: unknown;
  /** What a teacher should know, in sentences: kept bars that need a look, clashes. */
  readonly remarks: readonly string[];
  /** Where in the text the tune begins. */
  readonly start: number;
}

/** What is to be derived. */
interface Order {
  readonly file: TuneFile;
  /** Those with notes. */
  readonly tunes: readonly ReadTune[];
  readonly settings: LessonSettings;
  /** Which ornaments are to be suggested. */
  readonly asked: Asked;
}

/** A version as ABC, with the fingers and bows that were asked for. */
const abcOf = (score: Score, settings: LessonSettings): string => {
  const options = { ...fingeringOptionsOf(settings), level: settings.marks, atWrittenLines: true };
  return writeAbc(withHandMarks(score, handMarksOf(score, options)));
};

const derive = (tune: ReadTune, folder: string, { settings, asked }: Order): TuneVersions => {
  const lesson = lessonOf(tune.score, settings);
  const kept = keptRemarks(lesson);
  const together = togetherFit(lesson.ladder);
  const suggestions = asked === null ? [] : suggestionNotesOf(lesson, asked);
  return {
    folder,
    suggestions,
    start: tune.span.start,
    remarks: [
      ...kept.filter(({ asks }) => asks).map(({ words }) => words),
      ...(together?.fits === false ? [together.words] : []),
    ],
    texts: Object.fromEntries(lesson.ladder.map(({ id, score }) => [id, abcOf(score, settings)])),
    report: {
      number: tune.score.number,
      title: titleOf(tune.score),
      dance: lesson.dance.name,
      danceJudged: lesson.danceJudged,
      ...reportOf(lesson.versions),
      ...(asked === null ? {} : { suggestions }),
      hands: Object.fromEntries(lesson.ladder.map((v) => [v.id, handsReport(v, settings)])),
      kept: kept.map((remark, i) => ({ ...lesson.settings.keptBars[i]?.anchor, ...remark })),
      fits: groupFits(lesson.ladder).map(({ versions, fit }) => ({
        versions: versions.map(({ id }) => id),
        ...fit,
      })),
    },
  };
};

/** Folder names "12-the-title", with -2, -3 … where a name comes again. */
const folderNames = (tunes: readonly ReadTune[]): readonly string[] => {
  const taken = new Set<string>();
  return tunes.map(({ score }) => {
    const plain = `${score.number}-${slugOf(titleOf(score))}`;
    let name = plain;
    for (let n = 2; taken.has(name); n += 1) name = `${plain}-${n}`;
    taken.add(name);
    return name;
  });
};

/** Derives tune by tune, giving way to Ctrl-C between them. */
async function* deriveAll(order: Order, io: Io): AsyncGenerator<TuneVersions> {
  const names = folderNames(order.tunes);
  for (const [i, tune] of order.tunes.entries()) {
    io.signal.throwIfAborted();
    yield derive(tune, names[i] ?? String(i), order);
    await new Promise((resolve) => setImmediate(resolve));
  }
}

/** Writes the versions into folders as they are derived; returns them for whoever prints them too. */
const writeFolders = async (order: Order, staging: Staging, io: Io): Promise<readonly TuneVersions[]> => {
  const progress = progressOn(io);
  const made: TuneVersions[] = [];
  const paths: string[] = [];
  try {
    for await (const tune of deriveAll(order, io)) {
      progress.show(made.length / order.tunes.length, tune.folder);
      made.push(tune);
      const files = [
        ...Object.entries(tune.texts).map(([id, text]) => [`${tune.folder}/${id}.abc`, text] as const),
        [`${tune.folder}/report.json`, `${JSON.stringify(tune.report, null, 2)}\n`] as const,
      ];
      for (const [path, text] of files) {
        await staging.write(path, text);
        paths.push(path);
      }
    }
    const manifest = { format: VERSIONS_FORMAT, version: 1, source: order.file.name, files: paths };
    await staging.write(MANIFEST_FILE, `${JSON.stringify(manifest, null, 2)}\n`);
    return made;
  } finally {
    progress.clear();
  }
};

/** Replaces the folder `out`; null after a complaint that it is somebody's. */
const replaceFolder = async (order: Order, out: string, io: Io): Promise<readonly TuneVersions[] | null> => {
  const path = pathFrom(io, out);
  const target = await inspectTarget(path, VERSIONS_FORMAT);
  if (target.kind === 'refused') {
    complain(io, `${out}: ${target.message}`);
    return null;
  }
  const former = target.kind === 'ours' ? writtenBefore(target.manifest) : new Set<string>();
  const staging = await stageFolder(path);
  try {
    const made = await writeFolders(order, staging, io);
    complainKept(io, await staging.land((name) => name === MANIFEST_FILE || former.has(name)));
    return made;
  } finally {
    await staging.discard();
  }
};

const writtenBefore = (manifest: unknown): ReadonlySet<string> => {
  const files =
    typeof manifest === 'object' && manifest !== null && 'files' in manifest ? manifest.files : [];
  return new Set(Array.isArray(files) ? files.filter((f): f is string => typeof f === 'string') : []);
};

/** The versions of all tunes, in memory. */
const derived = async (order: Order, io: Io): Promise<readonly TuneVersions[]> => {
  const made: TuneVersions[] = [];
  for await (const tune of deriveAll(order, io)) made.push(tune);
  return made;
};

const printJson = (file: TuneFile, made: readonly TuneVersions[], io: Io): void => {
  const tunes = made.map(({ folder, texts, report }) => ({ folder, ...texts, report }));
  say(io, JSON.stringify({ tunes, diagnostics: diagnosticsJson(file) }, null, 2));
};

/** What is wrong with the file, for people: its errors, and how many tunes are left out. */
const complainOf = (file: TuneFile, leftOut: number, io: Io): void => {
  complainAll(
    io,
    file,
    file.book.diagnostics.filter((d) => d.severity === 'error'),
  );
  if (leftOut > 0)
    complain(
      io,
      leftOut === 1
        ? `${file.name}: one tune has no notes and is left out.`
        : `${file.name}: ${leftOut} tunes have no notes and are left out.`,
    );
};

/** The versions of a tune as ABC, what is suggested as comments after them. */
const asAbc = ({ texts, suggestions }: TuneVersions): string => {
  const comments = suggestionLines(suggestions).map((line) => `% ${line}\n`);
  return [...Object.values(texts), ...(comments.length > 0 ? [comments.join('')] : [])].join('\n');
};

/** What was made, in a line. */
const summaryOf = (made: readonly TuneVersions[], out: string): string => {
  const count = Object.keys(made[0]?.texts ?? {}).length;
  return `${made.length} ${made.length === 1 ? 'tune' : 'tunes'}, ${manyVersions(count).toLowerCase()} versions each, in ${out}`;
};

/** What was written, and what is suggested for it. */
const sayWritten = (made: readonly TuneVersions[], out: string, io: Io): void => {
  for (const { folder, suggestions } of made)
    if (suggestions.length > 0)
      say(io, [folder, ...suggestionLines(suggestions).map((line) => `  ${line}`)].join('\n'));
  say(io, summaryOf(made, out));
};

const remarkOn = (file: TuneFile, made: readonly TuneVersions[], io: Io): void => {
  const placeOf = placeFinder(file.text);
  for (const { remarks, start } of made) {
    const { line, column } = placeOf(start);
    for (const words of remarks) complain(io, `${file.name}:${line}:${column}: warning: ${words}`);
  }
};

/** `tuneladder versions`. */
export const versions = async (argv: readonly string[], io: Io): Promise<Exit> => {
  const { values, positionals } = parseArgs({
    args: [...argv],
    options: {
      out: { type: 'string' },
      suggest: { type: 'string' },
      vary: { type: 'boolean', default: false },
      json: { type: 'boolean', default: false },
      ...HAND_OPTIONS,
    },
    allowPositionals: true,
  });
  const [name, ...more] = positionals;
  if (name === undefined || more.length > 0)
    throw new UsageError('versions: name one ABC file or one lesson folder');
  if (values.out === '') throw new UsageError('versions: --out takes the name of a folder');
  const asked = askedFor(values.suggest, values.vary);
  const source = await openSource(name, io);
  if (source === null) return EXIT.input;
  const { file } = source;
  const tunes = file.book.tunes.filter((t) => notesOf(t.score).length > 0);
  const unmarked: LessonSettings = { ...source.stored, marks: 'none' };
  const settings = { ...unmarked, ...handsFrom('versions', values, unmarked) };
  const order: Order = { file, tunes, settings, asked };
  if (!values.json) complainOf(file, file.book.tunes.length - tunes.length, io);
  const wanted = tunes.length > 0 && values.out !== undefined ? values.out : null;
  const made = wanted === null ? await derived(order, io) : await replaceFolder(order, wanted, io);
  if (values.json) printJson(file, made ?? [], io);
  else if (wanted === null) for (const tune of made ?? []) say(io, asAbc(tune));
  else if (made !== null) sayWritten(made, wanted, io);
  if (!values.json) remarkOn(file, made ?? [], io);
  return made === null || tunes.length === 0 || hasError(file.book.diagnostics) ? EXIT.input : EXIT.done;
};
