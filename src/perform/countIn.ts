import {
  add,
  compare,
  divide,
  isLess,
  midiNumber,
  multiply,
  type Rational,
  rational,
  type Seconds,
  seconds,
  subtract,
  toNumber,
  ZERO,
} from '../core/index.ts';
import { barLengthOf, type Dance, type Metre } from '../music/index.ts';
import type { Clock } from './clock.ts';
import { CLICK_LEVELS } from './data.ts';
import type { LaidBar, Layout } from './layout.ts';
import { beatIn } from './levels.ts';
import type { CountIn, Performance } from './settings.ts';
import { CLICK, type TimedBeat, type TimedNote } from './timeline.ts';

/** A click lasts at most so long, and not beyond half of its beat. Ours. */
const CLICK_TIME: Seconds = seconds(0.1);
/** Clicks that a count-in has at least where a dance's own does not fit the metre. Ours. */
const FEWEST_CLICKS = 3;

/** A count-in measured out. */
export interface MeasuredCountIn extends CountIn {
  /** Score time between clicks. */
  readonly click: Rational;
  /** Score time from the first click to the first bar of the metre. */
  readonly length: Rational;
}

/** Whether clicks that far apart count this dance: on the beat, or for a slow minim beat in crotchets. */
const counts = (click: Rational, beat: Rational, dance: Dance, slow: boolean): boolean => {
  const perBeat = toNumber(divide(beat, click));
  return perBeat === 1 || (perBeat === 2 && slow && dance.slowCountIn.clicks > dance.countIn.clicks);
};

/** What a dance counts before it starts; in a metre that its table does not fit, whole bars of beats. */
const byDance = (metre: Metre, dance: Dance, slow: boolean): CountIn => {
  const usual = slow ? dance.slowCountIn : dance.countIn;
  const full = barLengthOf(metre);
  if (full === null) return { bars: 1, clicks: usual.clicks };
  const beat = beatIn(metre, dance);
  if (counts(divide(full, rational(usual.clicks)), beat, dance, slow)) return usual;
  const clicks = Math.max(1, Math.round(toNumber(divide(full, beat))));
  return { bars: Math.ceil(FEWEST_CLICKS / clicks), clicks };
};

/** The count-in of a performance, or null for none. */
export const countInOf = (metre: Metre, how: Performance): MeasuredCountIn | null => {
  if (how.countIn === false) return null;
  const { bars, clicks } = how.countIn === true ? byDance(metre, how.dance, how.slow) : how.countIn;
  if (bars === 0) return null;
  const full = barLengthOf(metre) ?? multiply(how.dance.beat, rational(clicks));
  return {
    bars,
    clicks,
    click: divide(full, rational(clicks)),
    length: multiply(full, rational(bars)),
  };
};

/** The beats counted in: they stop where the first note begins, a pick-up's too. */
export const countInBeats = (
  countIn: MeasuredCountIn,
  first: LaidBar | undefined,
  clock: Clock,
): readonly TimedBeat[] => {
  const firstFull = first === undefined ? ZERO : subtract(first.full ?? ZERO, first.offset);
  const downbeat = first === undefined || compare(first.offset, ZERO) === 0 ? ZERO : firstFull;
  const beats: TimedBeat[] = [];
  for (let i = 0; i < countIn.bars * countIn.clicks; i += 1) {
    const at = add(subtract(downbeat, countIn.length), multiply(countIn.click, rational(i)));
    if (!isLess(at, ZERO)) break;
    beats.push({ start: clock.timeOf(at), accented: i % countIn.clicks === 0, countIn: true });
  }
  return beats;
};

/** The beats of one bar as played. */
const beatsOfBar = (bar: LaidBar, dance: Dance, clock: Clock): readonly TimedBeat[] => {
  const beat = beatIn(bar.bar.metre, dance);
  const beats: TimedBeat[] = [];
  const end = add(bar.offset, bar.length);
  for (let at = ZERO; isLess(at, end); at = add(at, beat)) {
    if (isLess(at, bar.offset)) continue;
    const start = clock.timeOf(subtract(add(bar.start, at), bar.offset));
    beats.push({ start, accented: compare(at, ZERO) === 0, countIn: false });
  }
  return beats;
};

/** Every beat of the tune as played. */
export const beatsOf = (layout: Layout, dance: Dance, clock: Clock): readonly TimedBeat[] =>
  layout.bars.flatMap((bar) => beatsOfBar(bar, dance, clock));

/** The clicks on these beats. */
export const clicksOn = (beats: readonly TimedBeat[]): readonly TimedNote[] =>
  beats.map((beat, i) => {
    const gap = (beats[i + 1]?.start ?? Number.POSITIVE_INFINITY) - beat.start;
    return {
      voice: 'click',
      start: beat.start,
      length: seconds(Math.min(CLICK_TIME, gap / 2)),
      midi: midiNumber(beat.accented ? CLICK.accented : CLICK.plain),
      level: beat.accented ? CLICK_LEVELS.accented : CLICK_LEVELS.plain,
      attack: 'hit',
    };
  });
