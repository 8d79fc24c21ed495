import { type KeptRemark, keptRemark } from './kept/index.ts';
import type { Lesson } from './lesson.ts';

/** What has become of each kept bar of a lesson, in words, in their order. */
export const keptRemarks = (lesson: Lesson): readonly KeptRemark[] =>
  lesson.kept.map((state) =>
    keptRemark(state, {
      plain: lesson.versions.plain,
      words: lesson.settings.words,
      nameOf: (id) => lesson.ladder.find((version) => version.id === id)?.name ?? null,
    }),
  );
