import { type Seconds, seconds } from '../core/index.ts';
import { type LessonVersion, slugOf, TEMPO_NAMES } from '../lesson/index.ts';
import {
  RING_OUT,
  type SetTune,
  setTimelineLengthOf,
  type Timeline,
  timelineOfSet,
} from '../perform/index.ts';
import type { SetStep, TuneInSet, TuneSet } from './setOf.ts';

/** What the fiddle plays in a track of a set: the set's version, each lesson's simplest one, or nothing. */
export type SetFiddle = 'version' | 'simplest' | 'none';

/** One play-along track of a set. */
export interface SetTrack {
  /** Place in the set of tracks, from 1: the order of use. */
  readonly number: number;
  readonly fiddle: SetFiddle;
  readonly step: SetStep;
  readonly backing: boolean;
  /** "Full version, steady, with backing". */
  readonly title: string;
  /** For the file's name. */
  readonly slug: string;
}

type Wish = Pick<SetTrack, 'fiddle' | 'step' | 'backing'>;

/** What a learner of a set needs: first to find the way, then to play along, then the fiddle's own place. Ours. */
const WISHES: readonly Wish[] = [
  { fiddle: 'simplest', step: 'steady', backing: true },
  { fiddle: 'version', step: 'steady', backing: false },
  { fiddle: 'version', step: 'steady', backing: true },
  { fiddle: 'version', step: 'upToSpeed', backing: true },
  { fiddle: 'none', step: 'steady', backing: true },
  { fiddle: 'none', step: 'upToSpeed', backing: true },
];

const simplestOf = ({ lesson }: TuneInSet): LessonVersion => lesson.ladder[0];

const nameOf = ({ tunes: [first] }: TuneSet, fiddle: SetFiddle): string => {
  if (fiddle === 'none') return 'Backing alone';
  return (fiddle === 'simplest' ? simplestOf(first) : first.version).name;
};

/** The tracks of a set, in the order of use. */
export const setTracks = (set: TuneSet): readonly SetTrack[] => {
  const alreadySimple = set.tunes.every((tune) => simplestOf(tune).id === tune.version.id);
  return WISHES.filter(({ fiddle }) => fiddle !== 'simplest' || !alreadySimple).map((wish, i) => {
    const words = [
      nameOf(set, wish.fiddle),
      TEMPO_NAMES[wish.step],
      ...(wish.fiddle === 'none' ? [] : [wish.backing ? 'with backing' : 'bare']),
    ];
    return { ...wish, number: i + 1, title: words.join(', '), slug: slugOf(words.join(' ')) };
  });
};

/** The tunes of a track as they are played: what its timeline depends on. */
export const performanceOfSetTrack = (set: TuneSet, track: SetTrack): readonly SetTune[] =>
  set.tunes.map((tune) => {
    const { lesson, times, tempos, corner } = tune;
    const { settings } = lesson;
    const version = track.fiddle === 'simplest' ? simplestOf(tune) : tune.version;
    return {
      score: version.score,
      settings: {
        dance: lesson.dance,
        beatsPerMinute: tempos[track.step],
        times,
        tempoStep: track.step,
        melody: track.fiddle !== 'none',
        backing: track.backing ? lesson.chords : null,
        band: set.settings.band,
        ...(set.settings.click ? { click: true } : {}),
        ...(settings.swing === null ? {} : { swing: settings.swing }),
      },
      turn: corner?.turn ?? null,
    };
  });

/** When everything in a track of a set sounds: one count-in, and no stop between the tunes. */
export const timelineOfSetTrack = (set: TuneSet, track: SetTrack): Timeline =>
  timelineOfSet(performanceOfSetTrack(set, track));

/** How long a track of a set sounds, its ringing out included. */
export const setTrackLength = (set: TuneSet, track: SetTrack): Seconds =>
  seconds(setTimelineLengthOf(performanceOfSetTrack(set, track)) + RING_OUT);
