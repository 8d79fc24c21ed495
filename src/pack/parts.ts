import { type Audience, audienceOf, type Lesson } from '../lesson/index.ts';
import type { FilesOnDisk } from './filesOnDisk.ts';
import { type PackJob, packJobs } from './jobs.ts';
import type { Manifest, ManifestFile } from './manifest.ts';
import { inputsOf } from './partInput.ts';
import type { PackSource } from './source.ts';
import type { FolderJob } from './workerPool.ts';

/** How a part stands in an earlier pack: a file of it is not there; made from the lesson as it is; from one before; changed by hand since. */
export type PartState = 'missing' | 'current' | 'outOfDate' | 'changedByHand';

/** One part of a pack: what one job makes. */
export interface PackPart {
  /** The same for as long as the lesson has such a part: "sheet/bones/a4", "track/full-steady-with-backing", "text/notes". */
  readonly id: string;
  readonly kind: PackJob['kind'];
  /** In words: "sheet: The bones, A4". */
  readonly what: string;
  /** The files that it makes, relative to the pack. */
  readonly paths: readonly string[];
  /** Its files in the earlier pack; they have other names where the tune has another title by now. */
  readonly there: readonly string[];
  readonly state: PartState;
  /** Whom it is for, by the lesson's settings. */
  readonly audience: Audience;
  /** The earlier pack's files are made from what the lesson is now, whatever a hand has done to them since. */
  readonly upToDate: boolean;
  /** About how long it takes to make, in seconds of one core. */
  readonly seconds: number;
}

/** The id of the part that a file of a pack belongs to; null where the lesson has no such part any more. */
export const ownerOf = (
  file: Pick<ManifestFile, 'part' | 'path'>,
  jobs: readonly FolderJob[],
): string | null =>
  jobs.find((job) => (file.part === undefined ? job.paths.includes(file.path) : job.id === file.part))?.id ??
  null;

/**
 * The parts of a lesson's pack, in the manifest's order, and how they stand in an earlier pack.
 *
 * Nothing is made for it, so it may be asked after each change of a lesson.
 * @param manifest - of the earlier pack; null: there is none
 * @param disk - what has become of its files, see `inspectPack`; without it nobody knows of changes by hand
 */
export const partsOf = (
  lesson: Lesson,
  source: PackSource,
  manifest: Manifest | null,
  disk?: FilesOnDisk,
): readonly PackPart[] => {
  const jobs = packJobs(lesson, source.tracks);
  const inputs = inputsOf(jobs, lesson, source);
  const files = (manifest?.files ?? []).filter(({ path }) => disk?.gone.has(path) !== true);
  return jobs.map(({ id, kind, what, paths, effort: seconds }) => {
    const mine = files.filter((file) => ownerOf(file, jobs) === id);
    const whole = mine.length >= paths.length;
    const upToDate = whole && mine.every(({ input }) => input === inputs.get(id));
    const byHand = mine.some(({ path }) => disk?.changed.has(path) === true);
    const known: PartState = upToDate ? 'current' : 'outOfDate';
    const state = !whole ? 'missing' : byHand ? 'changedByHand' : known;
    const audience = audienceOf(lesson.settings.audiences, id);
    return { id, kind, what, paths, there: mine.map(({ path }) => path), state, audience, upToDate, seconds };
  });
};
