import {
  add,
  asWholeNotes,
  compare,
  type Rational,
  type Seconds,
  seconds,
  subtract,
  toNumber,
  ZERO,
} from '../core/index.ts';
import type { Score } from '../score/index.ts';
import type { LaidBar, Layout } from './layout.ts';
import { type Pace, pacesOf } from './pace.ts';
import type { Performance } from './settings.ts';
import { type Feel, feelOfBar, swingOf } from './swing.ts';
import type { TempoChange } from './timeline.ts';

/** A pace and how the tune is played that it belongs to. */
interface TunePace extends Pace {
  readonly how: Performance;
}

/** A stretch of one pace, with its time. */
interface Stretch extends TunePace {
  /** `at`, in whole notes. */
  readonly from: number;
  readonly start: number;
  readonly secondsPerWhole: number;
  readonly feel: Feel;
}

/** Tells when the places of a laid-out tune sound. */
export interface Clock {
  /** When a place in a bar sounds, with the dance's feel. */
  readonly timeAt: (bar: LaidBar, onset: Rational, who?: 'melody' | 'backing') => Seconds;
  /** When a place in score time comes that lies on a beat. */
  readonly timeOf: (at: Rational) => Seconds;
  readonly tempo: readonly TempoChange[];
  /** Seconds of a whole note at a place in score time. */
  readonly secondsPerWholeAt: (at: Rational) => number;
  /** What the dance is felt at there, in its beat. */
  readonly beatsPerMinuteAt: (at: Rational) => number;
}

const secondsPerWhole = (beat: Rational, beatsPerMinute: number): number =>
  60 / (beatsPerMinute * toNumber(beat));

const stretchesOf = (paces: readonly TunePace[], origin: number): readonly Stretch[] => {
  const stretches: Stretch[] = [];
  for (const pace of paces) {
    const before = stretches.at(-1);
    const { at, beatsPerMinute, hold, how } = pace;
    const swing = how.swing === 'byDance' ? swingOf(how.dance, beatsPerMinute) : how.swing;
    stretches.push({
      ...pace,
      from: toNumber(at),
      start:
        before === undefined
          ? origin
          : before.start + toNumber(subtract(at, before.at)) * before.secondsPerWhole,
      secondsPerWhole: secondsPerWhole(how.dance.beat, beatsPerMinute) * hold,
      feel: { dance: how.dance, swing },
    });
  }
  return stretches;
};

/** Where each laid bar's places lie in score time, bent by the feel; each bar's feel worked out once. */
const bentPlaces = (
  stretchAt: (from: number) => Stretch,
): ((bar: LaidBar, onset: Rational, who: 'melody' | 'backing') => number) => {
  type Feels = Map<LaidBar, (onset: Rational) => number>;
  const maps: Readonly<Record<'melody' | 'backing', Feels>> = { melody: new Map(), backing: new Map() };
  return (bar, onset, who) => {
    const known = maps[who].get(bar);
    const feel = known ?? feelOfBar(bar, stretchAt(toNumber(bar.start)).feel, who);
    if (known === undefined) maps[who].set(bar, feel);
    return toNumber(subtract(bar.start, bar.offset)) + feel(onset);
  };
};

const clockOn = (stretches: readonly Stretch[]): Clock => {
  const stretchAt = (from: number): Stretch => {
    const found = stretches.findLast((s) => s.from <= from) ?? stretches[0];
    if (found === undefined) throw new RangeError('clockOf: a performance without tempo');
    return found;
  };
  const timeOfPlace = (place: number): Seconds => {
    const stretch = stretchAt(place);
    return seconds(stretch.start + (place - stretch.from) * stretch.secondsPerWhole);
  };
  const placeOf = bentPlaces(stretchAt);
  return {
    timeOf: (at) => timeOfPlace(toNumber(at)),
    timeAt: (bar, onset, who = 'melody') => timeOfPlace(placeOf(bar, onset, who)),
    secondsPerWholeAt: (at) => stretchAt(toNumber(at)).secondsPerWhole,
    beatsPerMinuteAt: (at) => stretchAt(toNumber(at)).beatsPerMinute,
    tempo: stretches.map((s, i) => ({
      start: i === 0 ? seconds(0) : seconds(s.start),
      at: asWholeNotes(s.at),
      beat: s.how.dance.beat,
      beatsPerMinute: s.beatsPerMinute / s.hold,
    })),
  };
};

/** A tune laid out, and how it is played. */
export interface LaidTune {
  readonly score: Score;
  readonly layout: Layout;
  readonly how: Performance;
}

/**
 * The paces of a tune that follows another: a pick-up keeps the pulse of the tune before, in its own feel; the tune's own
 * tempo begins on its first beat, as between times through.
 */
const pacesBehind = ({ score, layout, how }: LaidTune, before: TunePace): readonly TunePace[] => {
  const [first] = layout.bars;
  const downbeat = layout.bars.find((bar) => compare(bar.offset, ZERO) === 0) ?? first;
  if (first === undefined || downbeat === undefined) return [];
  const own = pacesOf(score, layout, how, downbeat.start).map((pace) => ({ ...pace, how }));
  if (downbeat === first) return own;
  const beats = toNumber(before.how.dance.beat) / toNumber(how.dance.beat);
  return [{ at: first.start, beatsPerMinute: before.beatsPerMinute * beats, hold: 1, how }, ...own];
};

/**
 * The clock of a performance of one tune, or of several in a row, each with its own tempo and feel.
 * @param countIn - score time from the first click to the first bar of the metre
 */
export const clockOf = (tunes: readonly LaidTune[], countIn: Rational): Clock => {
  const first = tunes[0]?.layout.bars[0];
  const lead = compare(countIn, ZERO) === 0 ? ZERO : pickupStart(countIn, first);
  const paces: TunePace[] = [];
  for (const tune of tunes) {
    const before = paces.at(-1);
    const { score, layout, how } = tune;
    paces.push(
      ...(before === undefined
        ? pacesOf(score, layout, how, subtract(ZERO, lead)).map((pace) => ({ ...pace, how }))
        : pacesBehind(tune, before)),
    );
  }
  const clock = clockOn(stretchesOf(paces, 0));
  if (first === undefined || compare(countIn, ZERO) > 0 || compare(first.offset, ZERO) === 0) return clock;
  // A swung pick-up begins late; without a count-in the track begins with it.
  return clockOn(stretchesOf(paces, -clock.timeAt(first, ZERO)));
};

/** Score time from the first click to the first note, which may be a pick-up inside the last bar counted. */
const pickupStart = (countIn: Rational, first: LaidBar | undefined): Rational => {
  if (first === undefined || first.full === null || compare(first.offset, ZERO) === 0) return countIn;
  return add(subtract(countIn, first.full), first.offset);
};
