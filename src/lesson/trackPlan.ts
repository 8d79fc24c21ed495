import { TEMPO_STEPS, type TempoStep } from '../music/index.ts';
import { type Timeline, timelineOf } from '../perform/index.ts';
import { type Lesson, tempoOf, VERSION_IDS, VERSION_NAMES, type VersionId } from './lesson.ts';

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

/** Which tracks: the ten that a learner needs, or every combination (21). */
export type TrackChoice = 'default' | 'all';

type Slot = readonly [VersionId | null, TempoStep, boolean];

/** The ten tracks in the order of use. */
const DEFAULT_SLOTS: readonly Slot[] = [
  ['bones', 'learn', false],
  ['bones', 'steady', true],
  ['plain', 'learn', false],
  ['plain', 'steady', true],
  ['full', 'learn', false],
  ['full', 'steady', true],
  ['full', 'upToSpeed', true],
  [null, 'learn', true],
  [null, 'steady', true],
  [null, 'upToSpeed', true],
];

const allSlots = (): readonly Slot[] => [
  ...VERSION_IDS.flatMap((v) =>
    TEMPO_STEPS.flatMap((s): Slot[] => [
      [v, s, false],
      [v, s, true],
    ]),
  ),
  ...TEMPO_STEPS.map((s): Slot => [null, s, true]),
];

const titleOfSlot = ([version, step, backing]: Slot): string =>
  version === null
    ? `Backing alone, ${TEMPO_NAMES[step]}`
    : `${VERSION_NAMES[version]}, ${TEMPO_NAMES[step]}, ${backing ? 'with backing' : 'bare'}`;

const slugOfSlot = ([version, step, backing]: Slot): string =>
  version === null
    ? `backing-alone-${TEMPO_NAMES[step]}`.replaceAll(' ', '-')
    : `${version}-${TEMPO_NAMES[step]}-${backing ? 'with-backing' : 'bare'}`.replaceAll(' ', '-');

/** The tracks of a lesson, in the order of use. */
export const trackPlans = (lesson: Lesson, choice: TrackChoice): readonly TrackPlan[] =>
  (choice === 'default' ? DEFAULT_SLOTS : allSlots()).map((slot, i) => {
    const [version, step, backing] = slot;
    return {
      number: i + 1,
      version,
      step,
      backing,
      beatsPerMinute: tempoOf(lesson, step, version),
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
  timelineOf(lesson.versions[version ?? 'full'], {
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

/** The tune played once without a count-in: the full version, steady, with backing. For programs that have their own count-in. */
export const timelineOfTune = (lesson: Lesson): Timeline =>
  playingOf(
    lesson,
    { version: 'full', step: 'steady', backing: true, beatsPerMinute: tempoOf(lesson, 'steady', 'full') },
    { times: 1, countIn: false },
  );

/** "2:40": minutes and seconds, rounded to the second. */
export const clockTime = (time: number): string => {
  const whole = Math.round(time);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
};
