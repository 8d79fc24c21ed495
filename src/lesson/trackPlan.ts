import { TEMPO_STEPS, type TempoStep } from '../music/index.ts';
import { type Timeline, timelineOf } from '../perform/index.ts';
import type { LessonVersion } from './ladder.ts';
import { fullestOf, type Lesson, tempoOf, versionOf } from './lesson.ts';
import type { VersionId } from './versionChoice.ts';

/** Names of the tempo steps for people. */
export const TEMPO_NAMES: Readonly<Record<TempoStep, string>> = {
  learn: 'to learn',
  steady: 'steady',
  upToSpeed: 'up to speed',
};

/** One play-along track. */
export interface TrackPlan {
  /** Place in the set, from 1: the order of use. */
  readonly number: number;
  /** The fiddle's version; null: backing alone. */
  readonly version: VersionId | null;
  readonly step: TempoStep;
  readonly backing: boolean;
  readonly beatsPerMinute: number;
  /** "The bones, to learn, bare". */
  readonly title: string;
  /** "bones-to-learn-bare": for the file's name. */
  readonly slug: string;
}

/** Which tracks: those that a learner needs (ten for three versions), or every combination (21). */
export type TrackChoice = 'default' | 'all';

type Slot = readonly [LessonVersion | null, TempoStep, boolean];

const backingSlots: readonly Slot[] = TEMPO_STEPS.map((step) => [null, step, true]);

/** The tracks that a learner needs, in the order of use; only the fullest version is taken up to speed. */
const neededSlots = (ladder: readonly LessonVersion[]): readonly Slot[] => [
  ...ladder.flatMap((version, i): Slot[] => [
    [version, 'learn', false],
    [version, 'steady', true],
    ...(i === ladder.length - 1 ? [[version, 'upToSpeed', true] satisfies Slot] : []),
  ]),
  ...backingSlots,
];

const allSlots = (ladder: readonly LessonVersion[]): readonly Slot[] => [
  ...ladder.flatMap((version) =>
    TEMPO_STEPS.flatMap((step): Slot[] => [
      [version, step, false],
      [version, step, true],
    ]),
  ),
  ...backingSlots,
];

const titleOfSlot = ([version, step, backing]: Slot): string =>
  version === null
    ? `Backing alone, ${TEMPO_NAMES[step]}`
    : `${version.name}, ${TEMPO_NAMES[step]}, ${backing ? 'with backing' : 'bare'}`;

/** "bones-fuller" of "bonesFuller". */
const kebab = (id: VersionId): string => id.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

const slugOfSlot = ([version, step, backing]: Slot): string =>
  version === null
    ? `backing-alone-${TEMPO_NAMES[step]}`.replaceAll(' ', '-')
    : `${kebab(version.id)}-${TEMPO_NAMES[step]}-${backing ? 'with-backing' : 'bare'}`.replaceAll(' ', '-');

/** The tracks of a lesson, in the order of use. */
export const trackPlans = (lesson: Lesson, choice: TrackChoice): readonly TrackPlan[] =>
  (choice === 'default' ? neededSlots(lesson.ladder) : allSlots(lesson.ladder)).map((slot, i) => {
    const [version, step, backing] = slot;
    return {
      number: i + 1,
      version: version?.id ?? null,
      step,
      backing,
      beatsPerMinute: tempoOf(lesson, step, version?.kind ?? null),
      title: titleOfSlot(slot),
      slug: slugOfSlot(slot),
    };
  });

type Playing = Pick<TrackPlan, 'version' | 'step' | 'backing' | 'beatsPerMinute'>;

const playingOf = (
  lesson: Lesson,
  { version, step, backing, beatsPerMinute }: Playing,
  how: { readonly times: number; readonly countIn: boolean },
): Timeline =>
  timelineOf((version === null ? fullestOf(lesson) : versionOf(lesson, version)).score, {
    ...how,
    dance: lesson.dance,
    beatsPerMinute,
    tempoStep: step,
    melody: version !== null,
    backing: backing ? lesson.chords : null,
    ...(lesson.settings.swing === null ? {} : { swing: lesson.settings.swing }),
  });

/** When everything in a track sounds. */
export const timelineOfTrack = (lesson: Lesson, plan: TrackPlan): Timeline =>
  playingOf(lesson, plan, { times: lesson.settings.times, countIn: true });

/** The tune played once without a count-in: the fullest version, steady, with backing. For programs that have their own count-in. */
export const timelineOfTune = (lesson: Lesson): Timeline =>
  playingOf(
    lesson,
    {
      version: fullestOf(lesson).id,
      step: 'steady',
      backing: true,
      beatsPerMinute: tempoOf(lesson, 'steady', 'full'),
    },
    { times: 1, countIn: false },
  );

/** "2:40": minutes and seconds, rounded to the second. */
export const clockTime = (time: number): string => {
  const whole = Math.round(time);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
};
