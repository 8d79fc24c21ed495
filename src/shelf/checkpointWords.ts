import { capital } from '../lesson/index.ts';
import type { LessonTexts } from './lessonTexts.ts';

/** How many lines of one text the other has not got, the greater of both ways. */
const changedLines = (before: string, after: string): number => {
  const missing = (from: string, other: string): number => {
    const left = new Map<string, number>();
    for (const line of other.split('\n')) left.set(line, (left.get(line) ?? 0) + 1);
    let count = 0;
    for (const line of from.split('\n')) {
      const there = left.get(line) ?? 0;
      if (there === 0) count += 1;
      else left.set(line, there - 1);
    }
    return count;
  };
  return Math.max(missing(before, after), missing(after, before));
};

/** Fields of lesson.json as people call them, where their name alone does not say it. */
const FIELDS: Readonly<Record<string, string>> = {
  keptBars: 'kept bars',
  acceptedOrnaments: 'ornaments',
  ways: 'other ways to play a bar',
  barTable: '',
  stayDowns: 'fingers that stay down',
  stayDownChoices: 'fingers that stay down',
  largePrint: 'large print',
  ownNotes: 'your notes',
  notes: 'your notes',
  plain: 'ornaments in all the notes',
};

const fieldsIn = (settings: string): Readonly<Record<string, unknown>> | null => {
  try {
    const json: unknown = JSON.parse(settings);
    return typeof json === 'object' && json !== null ? (json as Record<string, unknown>) : null;
  } catch {
    return null;
  }
};

const changedFields = (before: string, after: string): readonly string[] => {
  const one = fieldsIn(before);
  const other = fieldsIn(after);
  if (one === null || other === null) return before === after ? [] : ['lesson.json'];
  const keys = [...new Set([...Object.keys(one), ...Object.keys(other)])];
  const changed = keys.filter((key) => JSON.stringify(one[key]) !== JSON.stringify(other[key]));
  return changed.map((key) => FIELDS[key] ?? key).filter((name) => name !== '');
};

/**
 * What differs between two states of a lesson, in words: "3 lines of the tune, density".
 * @param before - null: nothing is known from before
 */
export const whatChanged = (before: LessonTexts | null, after: LessonTexts): string => {
  if (before === null) return 'The oldest state that is kept';
  const lines = changedLines(before.abc, after.abc);
  const tune = lines === 0 ? [] : [lines === 1 ? 'one line of the tune' : `${lines} lines of the tune`];
  const parts = [...tune, ...changedFields(before.settings, after.settings)];
  return parts.length === 0 ? 'Nothing' : capital(parts.join(', '));
};
