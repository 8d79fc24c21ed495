import { barsOf, playedOrder } from '../score/index.ts';
import type { Lesson } from './lesson.ts';

/** Bars as printed and as played once through, pick-ups left out. */
export const barCounts = (lesson: Lesson): { readonly printed: number; readonly played: number } => {
  const numbered = new Set(
    barsOf(lesson.written)
      .filter((b) => b.bar.number !== null)
      .map((b) => `${b.part}/${b.index}`),
  );
  const played = playedOrder(lesson.written).filter((b) => numbered.has(`${b.part}/${b.bar}`)).length;
  return { printed: numbered.size, played };
};
