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
import type { LaidBar, Layout } from './layout.ts';
import type { Performance } from './settings.ts';
import { type Feel, feelOfBar, swingOf } from './swing.ts';
import type { TempoChange } from './timeline.ts';

/** A stretch of one tempo. */
interface Stretch {
  /** Score time of its first moment. */
  readonly at: Rational;
  readonly start: number;
  readonly secondsPerWhole: number;
  readonly beatsPerMinute: number;
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
}

const secondsPerWhole = (beat: Rational, beatsPerMinute: number): number =>
  60 / (beatsPerMinute * toNumber(beat));

/** Score time at which each time through reaches its first beat after the pick-up. */
const downbeats = (layout: Layout): readonly Rational[] => {
  const found: Rational[] = [];
  for (const bar of layout.bars)
    if (found.length === bar.time && compare(bar.offset, ZERO) === 0) found.push(bar.start);
  return found;
};

const stretchesOf = (layout: Layout, how: Performance, origin: number): readonly Stretch[] => {
  const stretches: Stretch[] = [];
  const starts = downbeats(layout);
  how.tempos.forEach((beatsPerMinute, time) => {
    const before = stretches.at(-1);
    if (before?.beatsPerMinute === beatsPerMinute) return;
    const at = time === 0 ? ZERO : starts[time];
    if (at === undefined) return;
    const start =
      before === undefined
        ? origin
        : before.start + toNumber(subtract(at, before.at)) * before.secondsPerWhole;
    const swing = how.swing === 'byDance' ? swingOf(how.dance, beatsPerMinute) : how.swing;
    stretches.push({
      at,
      start,
      beatsPerMinute,
      secondsPerWhole: secondsPerWhole(how.dance.beat, beatsPerMinute),
      feel: { dance: how.dance, swing },
    });
  });
  return stretches;
};

/** When each laid bar's places come, each bar's feel worked out once. */
const barTimes = (
  timeOf: (at: Rational) => number,
  stretchAt: (at: Rational) => Stretch,
): Clock['timeAt'] => {
  type Feels = Map<LaidBar, (onset: Rational) => number>;
  const maps: Readonly<Record<'melody' | 'backing', Feels>> = { melody: new Map(), backing: new Map() };
  return (bar, onset, who = 'melody') => {
    const stretch = stretchAt(bar.start);
    const known = maps[who].get(bar);
    const feel = known ?? feelOfBar(bar, stretch.feel, who);
    if (known === undefined) maps[who].set(bar, feel);
    const anchor = timeOf(subtract(bar.start, bar.offset));
    return seconds(anchor + feel(onset) * stretch.secondsPerWhole);
  };
};

/**
 * The clock of a performance.
 * @param countIn - score time from the first click to the first bar of the metre
 */
export const clockOf = (layout: Layout, how: Performance, countIn: Rational): Clock => {
  const first = layout.bars[0];
  const offset = first?.offset ?? ZERO;
  const perWhole = secondsPerWhole(how.dance.beat, how.tempos[0]);
  const lead = compare(countIn, ZERO) === 0 ? ZERO : pickupStart(countIn, first);
  const rough = stretchesOf(layout, how, toNumber(lead) * perWhole);
  const make = (stretches: readonly Stretch[]): Clock => {
    const stretchAt = (at: Rational): Stretch => {
      const found = stretches.findLast((s) => compare(s.at, at) <= 0) ?? stretches[0];
      if (found === undefined) throw new RangeError('clockOf: a performance without tempo');
      return found;
    };
    const timeOf = (at: Rational): Seconds => {
      const stretch = stretchAt(at);
      return seconds(stretch.start + toNumber(subtract(at, stretch.at)) * stretch.secondsPerWhole);
    };
    return {
      timeOf,
      timeAt: barTimes(timeOf, stretchAt),
      secondsPerWholeAt: (at) => stretchAt(at).secondsPerWhole,
      tempo: stretches.map((s, i) => ({
        start: i === 0 ? seconds(0) : seconds(s.start),
        at: i === 0 ? asWholeNotes(subtract(ZERO, lead)) : asWholeNotes(s.at),
        beat: how.dance.beat,
        beatsPerMinute: s.beatsPerMinute,
      })),
    };
  };
  const clock = make(rough);
  if (first === undefined || compare(countIn, ZERO) > 0 || compare(offset, ZERO) === 0) return clock;
  // A swung pick-up begins late; without a count-in the track begins with it.
  return make(stretchesOf(layout, how, -clock.timeAt(first, ZERO)));
};

/** Score time from the first click to the first note, which may be a pick-up inside the last bar counted. */
const pickupStart = (countIn: Rational, first: LaidBar | undefined): Rational => {
  if (first === undefined || first.full === null || compare(first.offset, ZERO) === 0) return countIn;
  return add(subtract(countIn, first.full), first.offset);
};
