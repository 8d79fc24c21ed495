import type { LessonCard } from '../protocol/index.ts';
import type { ListedLesson } from '../shelf/index.ts';

/** A lesson as "My lessons" lists it. */
export const lessonCardOf = (
  { id, facts, changed, packMade, found }: ListedLesson,
  building: boolean,
): LessonCard => {
  const pack = packMade === null ? 'none' : packMade < changed ? 'outOfDate' : 'current';
  return {
    id,
    title: facts.title,
    otherTitles: [...facts.otherTitles],
    dance: facts.dance,
    key: facts.key,
    versions: [...facts.versions],
    difficulty: facts.difficulty,
    pack: building ? 'building' : pack,
    changed: new Date(changed).toISOString(),
    broken: facts.broken,
    found,
  };
};
