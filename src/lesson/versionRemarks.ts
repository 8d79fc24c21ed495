import { ornamentsOf } from '../fiddle/index.ts';
import { reportOf } from '../versions/index.ts';
import { settingsOfVersions } from './ladder.ts';
import type { Lesson } from './lesson.ts';

/** Bones that keep at least this share of the notes are no simpler version to a learner. Ours. */
const NEARLY_ALL = 0.95;

/**
 * Are the bones hardly simpler than all the notes? Then a teacher should know before handing both out.
 * @returns a sentence with the remedy, or null where the bones are a version of their own
 */
const bonesRemark = (lesson: Lesson): string | null => {
  if (!lesson.ladder.some(({ kind }) => kind === 'bones')) return null;
  const { notes, density } = reportOf(lesson.versions);
  if (density < NEARLY_ALL) return null;
  const left = notes.plain - notes.bones;
  const what = left === 0 ? 'keep every note' : `leave out only ${left} of ${notes.plain} notes`;
  const remedy =
    settingsOfVersions(lesson.settings).density === 'barest'
      ? ''
      : ' For fewer, set the density of the bones to "barest".';
  return `The tune is simple already: the bones ${what}.${remedy}`;
};

/** A full version without a single ornament is the plain one under another name: a teacher should know that too. */
const fullRemark = ({ ladder, versions }: Lesson): string | null => {
  const full = ladder.find(({ kind }) => kind === 'full');
  if (full === undefined || !ladder.some(({ kind }) => kind === 'plain')) return null;
  if (ornamentsOf(versions.full).length > 0) return null;
  return `The tune has no ornaments yet: "${full.name}" has nothing that all the notes have not. Write some, or accept some that are suggested.`;
};

/** What a teacher should know of the versions before handing them out, in sentences with the remedy. */
export const versionRemarks = (lesson: Lesson): readonly string[] =>
  [bonesRemark(lesson), fullRemark(lesson)].filter((remark) => remark !== null);
