import { type Seconds, seconds } from '../core/index.ts';
import { TEMPO_STEPS, type TempoStep } from '../music/index.ts';
import {
  type Passage,
  type PerformSettings,
  RING_OUT,
  type Timeline,
  timelineLengthOf,
  timelineOf,
} from '../perform/index.ts';
import type { LessonVersion } from './ladder.ts';
import { fullestOf, type Lesson, tempoOf, versionOf } from './lesson.ts';
import { slugOf } from './slug.ts';
import { climbTempos, passageOf, type TempoWish, type TrackWish } from './trackWish.ts';
import type { VersionId } from './versionChoice.ts';
import { barWord } from './words.ts';

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
  /** The lesson's tempo step that it is played at; null: a tempo of its own. */
  readonly step: TempoStep | null;
  readonly backing: boolean;
  readonly click: boolean;
  /** Beats a minute, for each time through where they differ; the last goes on. */
  readonly tempos: readonly [number, ...number[]];
  readonly times: number;
  /** Only these bars. */
  readonly passage: Passage | null;
  /** So many bars, then the learner's turn. */
  readonly echo: number | null;
  /** The teacher's own recording in its place: a path. */
  readonly own: string | null;
  /** "The bones, to learn, bare". */
  readonly title: string;
  /** "bones-to-learn-bare": for the file's name. */
  readonly slug: string;
}

/** Which tracks: those that a learner needs (ten for three versions), or every combination (21). */
export type TrackChoice = 'default' | 'all';

const wish = (version: VersionId | 'none', tempo: TempoStep, backing: boolean): TrackWish => ({
  version,
  tempo,
  backing,
});

/**
 * The tracks of a choice, in the order of use. What a learner needs: each version bare to learn and backed when steady;
 * only the fullest is taken up to speed.
 */
const usualWishes = ({ ladder }: Lesson, choice: TrackChoice): readonly TrackWish[] => [
  ...ladder.flatMap(({ id }, i) =>
    choice === 'all'
      ? TEMPO_STEPS.flatMap((step) => [wish(id, step, false), wish(id, step, true)])
      : [
          wish(id, 'learn', false),
          wish(id, 'steady', true),
          ...(i === ladder.length - 1 ? [wish(id, 'upToSpeed', true)] : []),
        ],
  ),
  ...TEMPO_STEPS.map((step) => wish('none', step, true)),
];

/** Times through a passage. Ours: long enough to get it into the fingers. */
const PASSAGE_TIMES = 8;
/** Times through a climb at most, the slow one included: of the whole tune (some ten minutes), of a passage. Ours. */
const CLIMB_TIMES = { tune: 9, passage: 41 } as const;

const bpmOf = (lesson: Lesson, tempo: TempoWish, version: LessonVersion | null): number =>
  typeof tempo === 'number' ? tempo : tempoOf(lesson, tempo, version?.kind ?? null);

/** What the fiddle plays; null: nothing. */
const versionAsked = (lesson: Lesson, { version }: TrackWish): LessonVersion | null => {
  if (version === 'none') return null;
  return version === undefined ? fullestOf(lesson) : versionOf(lesson, version);
};

const timesOf = (asked: TrackWish, lesson: Lesson): number => {
  if (asked.echo !== undefined) return asked.times ?? 1;
  return asked.times ?? (asked.bars === undefined ? lesson.settings.times : PASSAGE_TIMES);
};

type Playing = Pick<
  TrackPlan,
  'version' | 'step' | 'backing' | 'click' | 'tempos' | 'times' | 'passage' | 'echo'
>;

/** How a wish is played, its defaults filled in. */
const playingOf = (lesson: Lesson, asked: TrackWish): Playing => {
  const version = versionAsked(lesson, asked);
  const slow = asked.echo !== undefined || asked.climbTo !== undefined;
  const tempo = asked.tempo ?? (slow ? 'learn' : 'steady');
  const first = bpmOf(lesson, tempo, version);
  const most = asked.times ?? CLIMB_TIMES[asked.bars === undefined ? 'tune' : 'passage'];
  const tempos: TrackPlan['tempos'] =
    asked.climbTo === undefined ? [first] : climbTempos(first, bpmOf(lesson, asked.climbTo, version), most);
  const passage = asked.bars === undefined ? null : passageOf(lesson.written, asked.bars);
  if (asked.bars !== undefined && passage === null) throw new RangeError(`there are no bars "${asked.bars}"`);
  return {
    version: version?.id ?? null,
    step: typeof tempo === 'number' || asked.climbTo !== undefined ? null : tempo,
    backing: version === null || asked.backing !== false,
    click: asked.click ?? lesson.settings.click,
    tempos,
    times: asked.climbTo === undefined ? timesOf(asked, lesson) : tempos.length,
    passage,
    echo: asked.echo ?? null,
  };
};

/** "bars 5–8". */
const barsInWords = (lesson: Lesson, bars: string): string => {
  const word = barWord(lesson.settings.words);
  const [from = '', to] = bars.replaceAll(/\s/g, '').split(/[-–]/);
  return to === undefined || to === from ? `${word} ${from}` : `${word}s ${from}–${to}`;
};

const paceInWords = (playing: Playing): string => {
  if (playing.tempos.length > 1)
    return `gradually faster, ${playing.tempos[0]} to ${Math.max(...playing.tempos)}`;
  return playing.step === null ? `at ${playing.tempos[0]}` : TEMPO_NAMES[playing.step];
};

/** What a track is called, piece by piece: who, which bars, how fast, with what. */
const wordsOf = (lesson: Lesson, asked: TrackWish, playing: Playing): readonly string[] => [
  ...(asked.bars === undefined ? [] : [barsInWords(lesson, asked.bars)]),
  ...(playing.echo === null
    ? []
    : [
        `echo by ${playing.echo === 1 ? barWord(lesson.settings.words) : `${playing.echo} ${barWord(lesson.settings.words)}s`}`,
      ]),
  paceInWords(playing),
  ...(playing.version === null ? [] : [playing.backing ? 'with backing' : 'bare']),
  ...(asked.click === true ? ['with click'] : []),
];

/** "bones-fuller" of "bonesFuller". */
const kebab = (id: VersionId): string => id.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

const planOf = (lesson: Lesson, asked: TrackWish, number: number): TrackPlan => {
  const playing = playingOf(lesson, asked);
  const words = wordsOf(lesson, asked, playing);
  const version = versionAsked(lesson, asked);
  const own = lesson.settings.recordings.find((r) => r.track === number)?.file ?? null;
  return {
    ...playing,
    number,
    own,
    title: [version?.name ?? 'Backing alone', ...words].join(', '),
    slug: slugOf([version === null ? 'backing-alone' : kebab(version.id), ...words].join(' ')),
  };
};

/** A recording of the teacher's own that takes no other track's place. */
const ownPlan = (lesson: Lesson, title: string, file: string, number: number): TrackPlan => ({
  ...playingOf(lesson, {}),
  number,
  own: file,
  title,
  slug: slugOf(title),
});

/** The name of an own recording without one. */
const OWN_TITLE = "The teacher's own playing";

/**
 * The tracks of a lesson, in the order of use: the chosen set, then what the teacher asked for besides, then
 * recordings of the teacher's own.
 * @throws RangeError when a wish names bars or a version that are not there (see `trackProblems`)
 */
export const trackPlans = (lesson: Lesson, choice: TrackChoice): readonly TrackPlan[] => {
  const { tracks, recordings } = lesson.settings;
  const wishes = [...usualWishes(lesson, choice), ...tracks];
  const plans = wishes.map((asked, i) => planOf(lesson, asked, i + 1));
  const more = recordings.filter((r) => r.track === undefined);
  return [
    ...plans,
    ...more.map(({ title = OWN_TITLE, file }, i) => ownPlan(lesson, title, file, plans.length + i + 1)),
  ];
};

/** What is wrong with the tracks that a teacher asks for, in sentences; none when they can be made. */
export const trackProblems = (lesson: Lesson, choice: TrackChoice): readonly string[] => {
  const { tracks, recordings } = lesson.settings;
  const wrongBars = tracks.flatMap(({ bars }) =>
    bars === undefined || passageOf(lesson.written, bars) !== null
      ? []
      : [`The tune has no bars "${bars}". Say printed numbers, "5-8", or count in a part, "B1-B4".`],
  );
  const ids = lesson.ladder.map((v) => v.id);
  const wrongVersions = tracks.flatMap(({ version }) =>
    version === undefined || version === 'none' || ids.includes(version)
      ? []
      : [`The lesson has no version "${version}"; it has ${ids.join(', ')}.`],
  );
  const slots = usualWishes(lesson, choice).length + tracks.length;
  const wrongSlots = recordings.flatMap(({ track, file }) =>
    track === undefined || track <= slots
      ? []
      : [`There is no track ${track} for "${file}" to take the place of: there are ${slots}.`],
  );
  return [...wrongVersions, ...wrongBars, ...wrongSlots];
};

/** What a track is worked out from: a version and how it is played. */
export interface TrackPerformance {
  readonly version: LessonVersion;
  readonly settings: PerformSettings;
}

const performanceOf = (lesson: Lesson, plan: Playing, countIn: boolean): TrackPerformance => ({
  version: plan.version === null ? fullestOf(lesson) : versionOf(lesson, plan.version),
  settings: {
    dance: lesson.dance,
    beatsPerMinute: plan.tempos[0],
    tempos: plan.tempos,
    times: plan.times,
    countIn,
    melody: plan.version !== null,
    backing: plan.backing ? lesson.chords : null,
    band: lesson.settings.band,
    ...(plan.click ? { click: true } : {}),
    ...(plan.step === null ? {} : { tempoStep: plan.step }),
    ...(plan.passage === null ? {} : { passage: plan.passage }),
    ...(plan.echo === null ? {} : { echo: plan.echo }),
    ...(lesson.settings.swing === null ? {} : { swing: lesson.settings.swing }),
  },
});

/** All that the timeline of a track depends on. */
export const performanceOfTrack = (lesson: Lesson, plan: TrackPlan): TrackPerformance =>
  performanceOf(lesson, plan, true);

/** When everything in a track sounds. */
export const timelineOfTrack = (lesson: Lesson, plan: TrackPlan): Timeline => {
  const { version, settings } = performanceOfTrack(lesson, plan);
  return timelineOf(version.score, settings);
};

/** How long a track sounds, its ringing out included: that of its timeline, without working that out. */
export const trackLength = (lesson: Lesson, plan: TrackPlan): Seconds => {
  const { version, settings } = performanceOfTrack(lesson, plan);
  return seconds(timelineLengthOf(version.score, settings) + RING_OUT);
};

/** The tune played once without a count-in: the fullest version, steady, with backing. For programs that have their own count-in. */
export const timelineOfTune = (lesson: Lesson): Timeline => {
  const { version, settings } = performanceOf(lesson, playingOf(lesson, { times: 1, click: false }), false);
  return timelineOf(version.score, settings);
};

/** "2:40": minutes and seconds, rounded to the second. */
export const clockTime = (time: number): string => {
  const whole = Math.round(time);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
};
