import { createHash } from 'node:crypto';
import { copyFile, mkdir, readFile, stat } from 'node:fs/promises';
import { availableParallelism, freemem } from 'node:os';
import { dirname, join } from 'node:path';
import { type Lesson, slugOf } from '../lesson/index.ts';
import { titleOf } from '../score/index.ts';
import {
  inspectTarget,
  type KeptFile,
  MANIFEST_FILE,
  type Staging,
  stageFolder,
  worldError,
} from '../store/index.ts';
import { longestTrack, type PackJob, packJobs } from './jobs.ts';
import { type Manifest, type ManifestFile, PACK_FORMAT, readManifest } from './manifest.ts';
import type { PackSource } from './source.ts';
import { runJobs } from './workerPool.ts';
import { zipOf } from './zip.ts';

/** How to build a pack. */
export interface BuildOptions {
  /** The pack's folder: absent, empty, or an earlier pack. */
  readonly out: string;
  readonly signal: AbortSignal;
  /** Called as work goes on: share done, 0…1, and what is being made. */
  readonly onProgress: (fraction: number, what: string) => void;
  /** Worker threads; default: one a core, four at most, fewer where the tracks would not fit into memory. */
  readonly threads?: number;
  /** A job without a sign of life for so long is ended, in milliseconds; default two minutes. */
  readonly patience?: number;
  /** The workers' module; default our own. Tests give one that fails. */
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

/** Memory that a track takes for each of its seconds, in bytes: two channels as rendered and as settled. Ours. */
const BYTES_A_SECOND = 0.75e6;
/** The share of the free memory that tracks may use, and the most of it, in bytes: a pack stays under 600 MB. Ours. */
const MEMORY = { share: 0.7, most: 350e6 } as const;

/** As many threads as there are cores and as the longest tracks fit into memory together; at least one. */
const threadsFor = (jobs: readonly PackJob[]): number => {
  const allowed = Math.min(MEMORY.most, freemem() * MEMORY.share);
  const fitting = Math.floor(allowed / (longestTrack(jobs) * BYTES_A_SECOND));
  return Math.max(1, Math.min(MOST_THREADS, availableParallelism(), fitting));
};

/** What the system says when memory runs out. From memory: the words of Node 20 to 24. */
const OUT_OF_MEMORY = /out of memory|memory limit|allocation failed|invalid typed array length/i;

/** Why a job failed, for the person who reads it. */
const inWords = (why: string): string =>
  OUT_OF_MEMORY.test(why)
    ? 'there is not enough memory for it; play the tune fewer times (--times 1) or close other programs'
    : why;

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

const fileEntry = (path: string, what: string, bytes: Uint8Array, state: 'new' | 'old'): ManifestFile => ({
  path,
  what,
  bytes: bytes.length,
  sha256: sha256(bytes),
  state,
});

/** Keeps the former file of a job that failed; null where there was none. */
const keepFormer = async (
  from: string,
  to: string,
  path: string,
  what: string,
): Promise<ManifestFile | null> => {
  try {
    await stat(join(from, path));
  } catch {
    return null;
  }
  await mkdir(dirname(join(to, path)), { recursive: true });
  await copyFile(join(from, path), join(to, path));
  return fileEntry(path, what, await readFile(join(to, path)), 'old');
};

interface Ends {
  readonly files: Map<string, ManifestFile>;
  readonly failed: { what: string; paths: string[]; why: string }[];
}

const runAll = async (
  jobs: readonly PackJob[],
  source: PackSource,
  staging: Staging,
  former: string | null,
  options: BuildOptions,
): Promise<Ends> => {
  const ends: Ends = { files: new Map(), failed: [] };
  await runJobs(jobs, {
    workerUrl: options.workerUrl ?? new URL('./packWorker.js', import.meta.url),
    workerData: source,
    threads: options.threads ?? threadsFor(jobs),
    patience: options.patience ?? PATIENCE,
    signal: options.signal,
    onProgress: (fraction, job) => options.onProgress(fraction, job.what),
    onEnd: async (job, outcome) => {
      if (outcome.kind === 'done') {
        for (const file of outcome.files) {
          await staging.write(file.path, file.bytes);
          ends.files.set(file.path, fileEntry(file.path, job.what, file.bytes, 'new'));
        }
        return;
      }
      ends.failed.push({ what: job.what, paths: [...job.paths], why: inWords(outcome.why) });
      for (const path of former === null ? [] : job.paths) {
        const kept = await keepFormer(former ?? '', staging.path, path, job.what);
        if (kept !== null) ends.files.set(path, kept);
      }
    },
  });
  return ends;
};

const manifestOf = (lesson: Lesson, jobs: readonly PackJob[], ends: Ends): Manifest => ({
  format: PACK_FORMAT,
  version: 1,
  title: titleOf(lesson.written),
  teacher: lesson.settings.teacher,
  date: lesson.settings.date,
  files: jobs.flatMap((job) => job.paths.flatMap((path) => ends.files.get(path) ?? [])),
  failed: jobs.flatMap((job) => ends.failed.filter((f) => f.paths[0] === job.paths[0])),
});

const zipName = (manifest: Manifest): string => `${slugOf(manifest.title)}-lesson-pack.zip`;

/** What of a former pack is as we made it, and so may go: a file that somebody has changed since is theirs. */
const untouchedFiles = async (folder: string, former: Manifest | null): Promise<ReadonlySet<string>> => {
  const ours = new Set([MANIFEST_FILE]);
  if (former === null) return ours;
  ours.add(zipName(former));
  for (const { path, sha256: made } of former.files) {
    const bytes = await readFile(join(folder, path)).catch(() => null);
    if (bytes !== null && sha256(bytes) === made) ours.add(path);
  }
  return ours;
};

/**
 * Builds a lesson's pack: sheets, tracks, texts, manifest and zip.
 *
 * The folder is made beside its place and put there when it is complete, so an interrupted build changes nothing.
 * A job that fails is named; the file that an earlier build made in its place is kept and marked old.
 * @throws WorldError when the place cannot be written; the signal's reason after an abort
 */
export const buildPack = async (
  lesson: Lesson,
  source: PackSource,
  options: BuildOptions,
): Promise<BuildResult> => {
  const target = await inspectTarget(options.out, PACK_FORMAT);
  if (target.kind === 'refused') return target;
  const former = target.kind === 'ours' ? readManifest(target.manifest) : null;
  const jobs = packJobs(lesson, source.tracks);
  const staging = await stageFolder(options.out);
  try {
    const ends = await runAll(jobs, source, staging, former === null ? null : options.out, options);
    if (ends.files.size === 0) return { kind: 'nothing', failed: ends.failed };
    const manifest = manifestOf(lesson, jobs, ends);
    const text = `${JSON.stringify(manifest, null, 2)}\n`;
    await staging.write(MANIFEST_FILE, text);
    const zip = zipName(manifest);
    const zipped = await zipOf(
      staging.path,
      [...manifest.files.map((f) => f.path), MANIFEST_FILE],
      manifest.date,
    );
    await staging.write(zip, zipped);
    options.signal.throwIfAborted();
    const ours = await untouchedFiles(options.out, former);
    const kept = await staging.land((path) => ours.has(path));
    return { kind: 'built', manifest, zip, bytes: zipped.length, kept };
  } catch (error) {
    options.signal.throwIfAborted();
    throw error instanceof Error && 'code' in error ? worldError('cannot build the pack', error) : error;
  } finally {
    await staging.discard();
  }
};
