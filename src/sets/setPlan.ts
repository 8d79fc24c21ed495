import type { Lesson, VersionId } from '../lesson/index.ts';
import { readChord } from '../music/index.ts';

/** Tempi of a tune in a set, in beats a minute of its dance; what is left out is the lesson's. */
export interface SetTempos {
  readonly steady?: number;
  readonly upToSpeed?: number;
}

/** One tune of a set, as the teacher wants it there. */
export interface SetPlanTune {
  /** Times through, 1…9; common practice: two or three. */
  readonly times: number;
  readonly tempos: SetTempos;
  /** The chord that turns the corner into the tune after it ("D7"); null: one is found. */
  readonly turn: string | null;
}

/** What a teacher decides about a set beside its lessons. */
export interface SetPlan {
  /** Empty: the tunes' titles, one after another. */
  readonly title: string;
  /** What is printed and played; null: each lesson's fullest version. */
  readonly version: VersionId | null;
  /** One for each lesson, in their order. */
  readonly tunes: readonly SetPlanTune[];
}

/** How many tunes a set has. Common practice: two to four. */
export const SET_LENGTH = { least: 2, most: 4 } as const;

/** What is wrong with a set, in sentences; none when it can be made. */
export const setProblems = (lessons: readonly Lesson[], { version, tunes }: SetPlan): readonly string[] => {
  const { least, most } = SET_LENGTH;
  const count =
    lessons.length < least || lessons.length > most
      ? [`A set has two to four tunes, and this one has ${lessons.length}.`]
      : [];
  const missing = lessons.flatMap(({ ladder }, i) =>
    version === null || ladder.some(({ id }) => id === version)
      ? []
      : [`Tune ${i + 1} has no version "${version}"; it has ${ladder.map(({ id }) => id).join(', ')}.`],
  );
  const noChord = tunes.flatMap(({ turn }, i) =>
    turn === null || readChord(turn) !== null
      ? []
      : [`“${turn}” after tune ${i + 1} is no chord; write it like D7 or Em, or leave it out.`],
  );
  return [...count, ...missing, ...noChord];
};
