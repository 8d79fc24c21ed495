import { availableParallelism, freemem } from 'node:os';
import { performance } from 'node:perf_hooks';
import { slugOf } from '../lesson/index.ts';
import {
  inspectTarget,
  type KeptFile,
  MANIFEST_FILE,
  type Staging,
  stageFolder,
  worldError,
} from '../store/index.ts';
import { filesOnDisk, sha256 } from './filesOnDisk.ts';
import { type FormerFiles, type FormerPack, formerFiles, takeOver } from './formerPack.ts';
import { type Manifest, type ManifestFile, PACK_FORMAT, PACK_VERSION, readManifest } from './manifest.ts';
import { paceFrom } from './pace.ts';
import { type FolderJob, runJobs } from './workerPool.ts';
import { zipOf } from './zip.ts';

/** How to build a pack. */
export interface BuildOptions {
  /** The pack's folder: absent, empty, or an earlier pack. */
  readonly out: string;
  readonly signal: AbortSignal;
  /** Called as work goes on: share done, 0…1, what is being made, and seconds left, null until known. */
  readonly onProgress: (fraction: number, what: string, secondsLeft: number | null) => void;
  /** Ids of the parts to build, see `partsOf`; the other files of an earlier pack stay as they are. Default: all. */
  readonly only?: readonly string[];
  /** With `only`: what becomes of files whose part the lesson has no more. Default: they stay. */
  readonly leftovers?: 'stay' | 'go';
  /** Worker threads; default: one a core, four at most, fewer where the tracks would not fit into memory. */
  readonly threads?: number;
  /** A job without a sign of life for so long is ended, in milliseconds; default two minutes. */
  readonly patience?: number;
  /** The workers' module, which gets no pictures; default our own. Tests give one that fails. */
  readonly workerUrl?: URL;
}

/** How a build ended. */
export type BuildResult =
  | {
      readonly kind: 'built';
      readonly manifest: Manifest;
      /** The zip's path, relative to the pack, and its size. */
      readonly zip: string;
      readonly bytes: number;
      /** Somebody's own files, or files of ours that were changed by hand, whose names the new pack needed. */
      readonly kept: readonly KeptFile[];
    }
  | { readonly kind: 'refused'; readonly message: string }
  | { readonly kind: 'nothing'; readonly failed: Manifest['failed'] };

/** More threads need more memory than they save time. Ours. */
const MOST_THREADS = 4;
/** The longest a job may be silent, in milliseconds: rendering the longest track takes a tenth of it. Ours. */
const PATIENCE = 120_000;

/** Memory that a thread with its encoder takes, and a track for each of its seconds, in bytes. Ours: measured, rounded. */
const BYTES = { thread: 90e6, second: 0.45e6 } as const;
/** The share of the free memory that these may use, and the most of it, in bytes: a pack stays under 600 MB. Ours. */
const MEMORY = { share: 0.7, most: 400e6 } as const;

/** As many threads as there are cores and as the longest tracks fit into memory together; at least one. */
const threadsFor = (longest: number): number => {
  const allowed = Math.min(MEMORY.most, freemem() * MEMORY.share);
  const fitting = Math.floor(allowed / (BYTES.thread + longest * BYTES.second));
  return Math.max(1, Math.min(MOST_THREADS, availableParallelism(), fitting));
};

/** What the system says when memory runs out. From memory: the words of Node 20 to 24. */
const OUT_OF_MEMORY = /out of memory|memory limit|allocation failed|invalid typed array length/i;

/** Why a job failed, for the person who reads it. */
const inWords = (why: string): string =>
  OUT_OF_MEMORY.test(why)
    ? 'there is not enough memory for it; play the tune fewer times (--times 1) or close other programs'
    : why;

/** What the zip of a folder is called behind its title. */
export type ZipKind = 'lesson-pack' | 'set';
const ZIP_KINDS: readonly ZipKind[] = ['lesson-pack', 'set'];

/** What is to be built, whether a lesson's pack or a set's. */
export interface FolderOrder {
  readonly jobs: readonly FolderJob[];
  /** Seconds of each job's track, by the job's id; others have none. */
  readonly trackLengths: ReadonlyMap<string, number>;
  /** A sum of what each part is made from, by the job's id. */
  readonly inputs: ReadonlyMap<string, string>;
  /** The module that does the jobs, and what it is given. */
  readonly workerUrl: URL;
  readonly workerData: unknown;
  /** The picture that a job's files carry, drawn when the first one needs it; null: none. */
  readonly cover: (() => Promise<Uint8Array>) | null;
  readonly about: Pick<Manifest, 'title' | 'teacher' | 'date'>;
  readonly zip: ZipKind;
}

interface Ends {
  /** By the id of the part. */
  readonly files: Map<string, readonly ManifestFile[]>;
  readonly failed: Manifest['failed'];
  /** How many jobs made their files. */
  made: number;
}

/** What a build works on. */
interface Task extends FolderOrder {
  readonly staging: Staging;
  readonly former: FormerPack | null;
  /** What there is of it, by parts. */
  readonly files: FormerFiles;
  readonly options: BuildOptions;
}

/** Gives each track the picture, drawn once for all of them. */
const completedWith = (draw: FolderOrder['cover']) => {
  let drawn: Promise<Uint8Array> | undefined;
  return async (job: FolderJob): Promise<FolderJob> => {
    if (draw === null || job.family !== 'sound') return job;
    drawn ??= draw();
    return { ...job, cover: await drawn };
  };
};

const runAll = async (task: Task, wanted: readonly FolderJob[]): Promise<Ends> => {
  const { staging, former, options, trackLengths } = task;
  const longest = Math.max(0, ...wanted.map(({ id }) => trackLengths.get(id) ?? 0));
  const ends: Ends = { files: new Map(), failed: [], made: 0 };
  const secondsLeft = paceFrom(performance.now());
  await runJobs(wanted, {
    workerUrl: options.workerUrl ?? task.workerUrl,
    workerData: task.workerData,
    completed: completedWith(options.workerUrl === undefined ? task.cover : null),
    threads: options.threads ?? threadsFor(longest),
    patience: options.patience ?? PATIENCE,
    signal: options.signal,
    onProgress: (fraction, job) =>
      options.onProgress(fraction, job.what, secondsLeft(fraction, performance.now())),
    onEnd: async ({ id, what, paths }, outcome) => {
      if (outcome.kind === 'done') {
        for (const file of outcome.files) await staging.write(file.path, file.bytes);
        ends.files.set(
          id,
          outcome.files.map(({ path, bytes }) => ({
            ...{ path, what, bytes: bytes.length, sha256: sha256(bytes) },
            ...{ part: id, input: task.inputs.get(id), state: 'new' },
          })),
        );
        ends.made += 1;
        return;
      }
      ends.failed.push({ part: id, what, paths: [...paths], why: inWords(outcome.why) });
      const kept = task.files.of(id);
      if (former !== null) await takeOver(kept, former.folder, staging);
      ends.files.set(
        id,
        kept.map((file) => ({ ...file, state: 'old' })),
      );
    },
  });
  return ends;
};

/** Takes over what a build of some parts leaves as it is. */
const keepOthers = async (
  task: Task,
  wanted: readonly FolderJob[],
  ends: Ends,
): Promise<readonly ManifestFile[]> => {
  const { former, files, staging, jobs } = task;
  if (former === null) return [];
  const others = jobs.filter((job) => !wanted.includes(job));
  for (const { id } of others) {
    await takeOver(files.of(id), former.folder, staging);
    ends.files.set(id, files.of(id));
    ends.failed.push(...former.manifest.failed.filter(({ part }) => part === id));
  }
  if (task.options.leftovers === 'go') return [];
  const taken = new Set([...ends.files.values()].flat().map(({ path }) => path));
  const leftover = files.leftover.filter(({ path }) => !taken.has(path));
  await takeOver(leftover, former.folder, staging);
  return leftover;
};

const manifestOf = (
  { about, jobs }: FolderOrder,
  ends: Ends,
  leftover: readonly ManifestFile[],
): Manifest => ({
  format: PACK_FORMAT,
  version: PACK_VERSION,
  ...about,
  files: [...jobs.flatMap((job) => ends.files.get(job.id) ?? []), ...leftover],
  failed: jobs.flatMap((job) => ends.failed.filter((f) => f.part === job.id)),
});

const zipName = (title: string, kind: ZipKind): string => `${slugOf(title)}-${kind}.zip`;

/** What of a former pack is as we made it, and so may go: a file that somebody has changed since is theirs. */
const untouchedFiles = async (folder: string, former: Manifest | null): Promise<ReadonlySet<string>> => {
  if (former === null) return new Set([MANIFEST_FILE]);
  const { gone, changed } = await filesOnDisk(folder, former);
  const untouched = former.files
    .map(({ path }) => path)
    .filter((path) => !gone.has(path) && !changed.has(path));
  return new Set([MANIFEST_FILE, ...ZIP_KINDS.map((kind) => zipName(former.title, kind)), ...untouched]);
};

const formerAt = async (folder: string, json: unknown): Promise<FormerPack | null> => {
  const manifest = readManifest(json);
  return manifest === null ? null : { folder, manifest, disk: await filesOnDisk(folder, manifest) };
};

/**
 * Builds a folder of files, their manifest and a zip of all.
 *
 * The folder is made beside its place and put there when it is complete, so an interrupted build changes nothing. A
 * build of some parts takes all others over from the earlier pack.
 * A job that fails is named; the file that an earlier build made in its place is kept and marked old.
 * @throws WorldError when the place cannot be written; the signal's reason after an abort
 */
export const buildFolder = async (order: FolderOrder, options: BuildOptions): Promise<BuildResult> => {
  const target = await inspectTarget(options.out, PACK_FORMAT);
  if (target.kind === 'refused') return target;
  const { jobs } = order;
  const { only } = options;
  const unknown = only?.find((id) => !jobs.some((job) => job.id === id));
  if (unknown !== undefined)
    return {
      kind: 'refused',
      message: `the lesson has no part "${unknown}" any more. Look at its parts again.`,
    };
  const wanted = only === undefined ? jobs : jobs.filter(({ id }) => only.includes(id));
  const former = target.kind === 'ours' ? await formerAt(options.out, target.manifest) : null;
  const staging = await stageFolder(options.out);
  try {
    const files = formerFiles(former, jobs);
    const task: Task = { ...order, staging, former, files, options };
    const ends = await runAll(task, wanted);
    if (wanted.length > 0 && ends.made === 0) return { kind: 'nothing', failed: ends.failed };
    const leftover = only === undefined ? [] : await keepOthers(task, wanted, ends);
    const manifest = manifestOf(order, ends, leftover);
    await staging.write(MANIFEST_FILE, `${JSON.stringify(manifest, null, 2)}\n`);
    const zip = zipName(manifest.title, order.zip);
    const zipped = await zipOf(
      staging.path,
      [...manifest.files.map((f) => f.path), MANIFEST_FILE],
      manifest.date,
    );
    await staging.write(zip, zipped);
    options.signal.throwIfAborted();
    const ours = await untouchedFiles(options.out, former?.manifest ?? null);
    const kept = await staging.land((path) => ours.has(path));
    return { kind: 'built', manifest, zip, bytes: zipped.length, kept };
  } catch (error) {
    options.signal.throwIfAborted();
    throw error instanceof Error && 'code' in error ? worldError('cannot build the pack', error) : error;
  } finally {
    await staging.discard();
  }
};
