import type { LessonTexts } from '../../protocol/index.ts';

/** Which of a lesson's texts. */
export type TextName = keyof LessonTexts;

/** A change of one text: what stood at `at` goes, what is inserted comes. Offsets in UTF-16 code units. */
export interface Patch {
  readonly text: TextName;
  readonly at: number;
  readonly removed: string;
  readonly inserted: string;
}

/** The smallest single change that makes one text of another; null where they are equal. */
export const patchBetween = (text: TextName, before: string, after: string): Patch | null => {
  if (before === after) return null;
  const most = Math.min(before.length, after.length);
  let start = 0;
  while (start < most && before[start] === after[start]) start += 1;
  let end = 0;
  while (end < most - start && before[before.length - 1 - end] === after[after.length - 1 - end]) end += 1;
  return {
    text,
    at: start,
    removed: before.slice(start, before.length - end),
    inserted: after.slice(start, after.length - end),
  };
};

/** Texts with a change made. @throws RangeError when what is to go does not stand there */
export const patched = (texts: LessonTexts, { text, at, removed, inserted }: Patch): LessonTexts => {
  const before = texts[text];
  if (before.slice(at, at + removed.length) !== removed)
    throw new RangeError(`"${removed}" does not stand at ${at} of ${text}`);
  return { ...texts, [text]: before.slice(0, at) + inserted + before.slice(at + removed.length) };
};

/** The change that takes a change back. */
export const backOf = (patch: Patch): Patch => ({
  ...patch,
  removed: patch.inserted,
  inserted: patch.removed,
});
