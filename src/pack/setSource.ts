import { lessonOf } from '../lesson/index.ts';
import { type SetPlan, setOf, type TuneSet } from '../sets/index.ts';
import { sourceSum } from './partInput.ts';
import { type PackSource, tuneOf } from './source.ts';

/** What a worker needs to work a set out for itself. */
export interface SetSource {
  /** Each lesson's tune and settings, in the order of playing; their `tracks` are not asked. */
  readonly lessons: readonly PackSource[];
  readonly plan: SetPlan;
}

/** The set of a source. */
export const setOfSource = ({ lessons, plan }: SetSource): TuneSet =>
  setOf(
    lessons.map((source) => lessonOf(tuneOf(source).score, source.settings)),
    plan,
  );

/** Names all that a set's folder is made from; a day that the teacher has not set does not count. */
export const setSum = ({ lessons, plan }: SetSource): string =>
  sourceSum({
    plan,
    lessons: lessons.map((source) =>
      source.undated === true ? { ...source, settings: { ...source.settings, date: '' } } : source,
    ),
  });
