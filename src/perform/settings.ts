import { danceOfScore } from '../fiddle/index.ts';
import type { ChordPlan } from '../harmony/index.ts';
import type { Dance, TempoStep } from '../music/index.ts';
import type { Score } from '../score/index.ts';
import type { PatternChoice } from './patterns.ts';
import type { Extent, Passage } from './route.ts';

/** Bars of count-in and clicks in each. */
export interface CountIn {
  readonly bars: number;
  readonly clicks: number;
}

/** Who can play in the backing. */
export const PLAYERS = ['guitar', 'piano', 'bass', 'drum'] as const;
/** One of the backing's players. */
export type Player = (typeof PLAYERS)[number];

/** Who plays the backing, and which of the dance's two patterns. */
export interface Band {
  readonly players: readonly Player[];
  readonly pattern: PatternChoice;
}

/** The usual band. */
const USUAL_BAND: Band = { players: ['guitar', 'bass'], pattern: 'usual' };

/** How a version of a tune is to be played. */
export interface PerformSettings {
  /** Its beat, swing and count-in; default: by the tune's `R:` field, else judged by metre and running note. */
  readonly dance?: Dance;
  /** In the dance's beat, 10…400. */
  readonly beatsPerMinute: number;
  /**
   * Another tempo for each time through, in the dance's beat: the first for the first time, the last goes on. It
   * changes on the first beat after the pick-up. Default: `beatsPerMinute` throughout.
   */
  readonly tempos?: readonly number[];
  /** Chooses the count-in: `learn` has the slow one. Default: judged by the tempo. */
  readonly tempoStep?: TempoStep;
  /**
   * Long : short of an even-written pair of running notes in simple time, 0.5…4, the same at every tempo; default
   * `byDance`: the dance's own, falling with the tempo.
   */
  readonly swing?: number | 'byDance';
  /** Times through, 1…99; default 2. */
  readonly times?: number;
  /** Only this stretch of the tune, so many times. Default: all of it. */
  readonly passage?: Passage;
  /** So many bars are played, then the same bars are the learner's, with the backing alone; 1…16. Default: no echo. */
  readonly echo?: number;
  /** Clicks before the tune: as the dance asks (true), none (false), or so many. Default true. */
  readonly countIn?: boolean | CountIn;
  /** Clicks on every beat of the tune. Default false. */
  readonly click?: boolean;
  /** Whether the fiddle plays; false gives the backing alone. */
  readonly melody: boolean;
  /** What the backing plays; null: nothing. */
  readonly backing: ChordPlan | null;
  /** Who plays it; default guitar and bass, the dance's usual pattern. */
  readonly band?: Band;
}

/** Settings with nothing left open. */
export interface Performance extends Extent {
  readonly dance: Dance;
  /** Beats a minute of each time through. */
  readonly tempos: readonly [number, ...number[]];
  readonly slow: boolean;
  readonly swing: number | 'byDance';
  readonly countIn: boolean | CountIn;
  readonly click: boolean;
  readonly melody: boolean;
  readonly backing: ChordPlan | null;
  readonly band: Band;
}

const within = (name: string, value: number, [least, most]: readonly [number, number]): number => {
  if (!(value >= least && value <= most))
    throw new RangeError(`timelineOf: ${name} is ${value}, must be ${least} to ${most}`);
  return value;
};

const whole = (name: string, value: number, range: readonly [number, number]): number => {
  if (!Number.isInteger(value)) throw new RangeError(`timelineOf: ${name} is ${value}, must be whole`);
  return within(name, value, range);
};

/** Slowest and fastest tempo that we play, in beats a minute. Ours: beyond, nobody dances or learns. */
const TEMPO_RANGE = [10, 400] as const;
const TIMES_RANGE = [1, 99] as const;
const ECHO_RANGE = [1, 16] as const;
const SWING_RANGE = [0.5, 4] as const;
const COUNT_IN_BARS = [0, 8] as const;
const COUNT_IN_CLICKS = [1, 16] as const;

const temposOf = (settings: PerformSettings, times: number): readonly [number, ...number[]] => {
  const first = within('beatsPerMinute', settings.beatsPerMinute, TEMPO_RANGE);
  const plan = settings.tempos ?? [];
  for (const tempo of plan) within('tempos', tempo, TEMPO_RANGE);
  const tempoOf = (time: number): number => plan[Math.min(time, plan.length - 1)] ?? first;
  return [tempoOf(0), ...Array.from({ length: times - 1 }, (_, i) => tempoOf(i + 1))];
};

/**
 * Fills in what the settings leave open.
 * @throws RangeError when a value is outside its range
 */
export const performanceOf = (score: Score, settings: PerformSettings): Performance => {
  const dance = settings.dance ?? danceOfScore(score);
  const times = whole('times', settings.times ?? 2, TIMES_RANGE);
  const tempos = temposOf(settings, times);
  const swing = settings.swing ?? 'byDance';
  if (swing !== 'byDance') within('swing', swing, SWING_RANGE);
  const countIn = settings.countIn ?? true;
  if (typeof countIn === 'object') {
    whole('countIn.bars', countIn.bars, COUNT_IN_BARS);
    whole('countIn.clicks', countIn.clicks, COUNT_IN_CLICKS);
  }
  const middle = (dance.tempo.learn + dance.tempo.steady) / 2;
  return {
    dance,
    tempos,
    slow: settings.tempoStep === undefined ? tempos[0] < middle : settings.tempoStep === 'learn',
    swing,
    times,
    passage: settings.passage ?? null,
    echo: settings.echo === undefined ? null : whole('echo', settings.echo, ECHO_RANGE),
    countIn,
    // Without backing or click nobody would keep the time while the fiddle rests.
    click: settings.click ?? (settings.echo !== undefined && settings.backing === null),
    melody: settings.melody,
    backing: settings.backing,
    band: settings.band ?? USUAL_BAND,
  };
};
