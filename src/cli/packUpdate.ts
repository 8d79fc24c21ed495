import type { Lesson } from '../lesson/index.ts';
import { inspectPack, type PackSource, partsOf } from '../pack/index.ts';

/** What an update of a pack has to do. */
export interface Update {
  /** Ids of the parts that are missing or made from a lesson as it was before. */
  readonly parts: readonly string[];
  /** The pack has files of parts that the lesson has no more. */
  readonly leftovers: boolean;
}

/**
 * Looks at an earlier pack.
 * @param out - its folder; where there is no pack, everything is missing
 */
export const updateOf = async (lesson: Lesson, source: PackSource, out: string): Promise<Update> => {
  const former = await inspectPack(out);
  const parts = partsOf(lesson, source, former?.manifest ?? null, former?.disk);
  const owned = new Set(parts.flatMap(({ there }) => there));
  return {
    parts: parts.filter(({ upToDate }) => !upToDate).map(({ id }) => id),
    leftovers: former?.manifest.files.some(({ path }) => !owned.has(path)) ?? false,
  };
};
