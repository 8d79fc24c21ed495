import { bonesChoicesOf, bonesOf, type ChoicesOfBar } from '../versions/index.ts';
import type { Lesson } from './lesson.ts';
import { idsOf, type VersionId } from './versionChoice.ts';

/**
 * What there is to choose from in the bars of one of a lesson's bones, as they are derived, kept bars left aside.
 * @returns one list a written bar; null where the lesson has no bones of that id
 */
export const barChoicesOf = (lesson: Lesson, id: VersionId): readonly ChoicesOfBar[] | null => {
  const { settings, versions } = lesson;
  const choice = settings.versions[idsOf(settings.versions).indexOf(id)];
  if (choice?.kind !== 'bones') return null;
  const density = choice.density ?? settings.density;
  return bonesChoicesOf(versions.plain, bonesOf(versions.plain, { density }), { density });
};
