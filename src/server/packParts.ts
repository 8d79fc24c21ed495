import { readdir } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { audienceOf, type Lesson } from '../lesson/index.ts';
import { inspectPack, type PackSource, partsOf } from '../pack/index.ts';
import type { PackPart } from '../protocol/index.ts';

/** More cores do not make a pack faster. */
const MOST_CORES = 4;

/** The folder of a lesson's pack. */
export const packFolder = (folder: string): string => join(folder, 'pack');

/** The parts of a lesson's pack and how they stand. */
export const packPartsOf = async (
  lesson: Lesson,
  source: PackSource,
  folder: string,
): Promise<readonly PackPart[]> => {
  const former = await inspectPack(packFolder(folder));
  return partsOf(lesson, source, former?.manifest ?? null, former?.disk).map(
    ({ id, what, kind, paths, there, state, seconds }) => ({
      id,
      what,
      kind,
      paths: state === 'missing' ? [...paths] : [...there],
      state,
      audience: audienceOf(lesson.settings.audiences, id),
      seconds: seconds / Math.min(MOST_CORES, availableParallelism()),
    }),
  );
};

/** The zip of a lesson's whole pack, by its place in the pack; null where there is none. */
export const wholeZipIn = async (folder: string): Promise<string | null> => {
  const names = await readdir(packFolder(folder)).catch((): string[] => []);
  return names.find((name) => name.endsWith('-lesson-pack.zip')) ?? null;
};
