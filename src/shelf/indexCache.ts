import { join } from 'node:path';
import type { LessonFacts } from './lessonFacts.ts';
import type { ShelfFiles } from './shelfFiles.ts';

/** What the shelf knew of its lessons when it was last open; whatever does not agree with the files is made anew. */
const CACHE = '.index.json';
/** Changes whenever other facts are kept, or are found otherwise. */
const CACHE_VERSION = 1;

/** Facts of a lesson and the state of the files that they were read from. */
export interface CachedFacts {
  readonly stamp: string;
  readonly facts: LessonFacts;
}

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Reads the cache; an empty one where it is missing, damaged or of another version. */
export const readCache = async (
  shelf: string,
  files: ShelfFiles,
): Promise<ReadonlyMap<string, CachedFacts>> => {
  try {
    const cache: unknown = JSON.parse(new TextDecoder().decode(await files.read(join(shelf, CACHE))));
    if (!isRecord(cache) || cache.version !== CACHE_VERSION || !isRecord(cache.lessons)) return new Map();
    const entries = Object.entries(cache.lessons).filter(
      ([, entry]) => isRecord(entry) && typeof entry.stamp === 'string' && isRecord(entry.facts),
    );
    return new Map(entries as [string, CachedFacts][]);
  } catch {
    return new Map();
  }
};

/** Writes the cache. A shelf that cannot be written works without it. */
export const writeCache = async (
  shelf: string,
  lessons: ReadonlyMap<string, CachedFacts>,
  files: ShelfFiles,
): Promise<void> => {
  const text = JSON.stringify({ version: CACHE_VERSION, lessons: Object.fromEntries(lessons) });
  try {
    await files.write(join(shelf, `${CACHE}.part`), text);
    await files.rename(join(shelf, `${CACHE}.part`), join(shelf, CACHE));
  } catch {
    await files.remove(join(shelf, `${CACHE}.part`)).catch(() => undefined);
  }
};
