import { diff3Merge } from 'node-diff3';
import type { LessonTexts } from '../../protocol/index.ts';

const linesOf = (text: string): string[] => text.split('\n');

/** One text in which both sides' changes stand; null where both changed the same lines otherwise. */
const mergedText = (mine: string, base: string, theirs: string): string | null => {
  if (mine === theirs || theirs === base) return mine;
  if (mine === base) return theirs;
  const blocks = diff3Merge(linesOf(mine), linesOf(base), linesOf(theirs), { excludeFalseConflicts: true });
  if (blocks.some((block) => block.conflict !== undefined)) return null;
  return blocks.flatMap((block) => block.ok ?? []).join('\n');
};

/**
 * Two people's changes of one lesson put together, line by line.
 * @param base - what both began with
 * @returns null where both changed the same lines in different ways: somebody has to choose
 */
export const mergedTexts = (
  mine: LessonTexts,
  base: LessonTexts,
  theirs: LessonTexts,
): LessonTexts | null => {
  const abc = mergedText(mine.abc, base.abc, theirs.abc);
  const settings = mergedText(mine.settings, base.settings, theirs.settings);
  return abc === null || settings === null ? null : { abc, settings };
};
