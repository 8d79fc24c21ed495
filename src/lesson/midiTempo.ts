import { type Seconds, seconds, toNumber } from '../core/index.ts';
import type { Metre } from '../music/index.ts';
import type { TempoChange, Timeline } from '../perform/index.ts';

/** Ticks of a crotchet: divides into 64ths, triplets and quintuplets; under 1 ms a tick from 63 crotchets a minute up. */
export const TICKS_PER_CROTCHET = 960;
/** Pick-ups are counted in these. */
const SEMIQUAVER = TICKS_PER_CROTCHET / 4;
const MICROSECONDS_PER_SECOND = 1e6;
const MICROSECONDS_PER_MINUTE = 60 * MICROSECONDS_PER_SECOND;
/** The slowest tempo that three bytes hold. Source: Standard MIDI Files 1.0, Set Tempo. */
const SLOWEST = 0xff_ffff;
/** Tempo of a file without any. Source: Standard MIDI Files 1.0: 120 crotchets a minute. */
const DEFAULT_TEMPO = 500_000;

/** A stretch of one tempo. */
export interface TempoStretch {
  readonly tick: number;
  /** The second at which a player reaches that tick. */
  readonly at: Seconds;
  /** A whole number. */
  readonly microsecondsPerCrotchet: number;
}

/** A pick-up at the start of the file, as a bar of its own. */
export interface LeadingPickup {
  readonly metre: Metre;
  readonly ticks: number;
  readonly length: Seconds;
}

const ticksIn = (duration: number, microsecondsPerCrotchet: number): number =>
  (duration * MICROSECONDS_PER_SECOND * TICKS_PER_CROTCHET) / microsecondsPerCrotchet;
const secondsIn = (ticks: number, microsecondsPerCrotchet: number): number =>
  (ticks * microsecondsPerCrotchet) / (MICROSECONDS_PER_SECOND * TICKS_PER_CROTCHET);

const wholeTempo = (microseconds: number): number => Math.min(SLOWEST, Math.max(1, Math.round(microseconds)));
const tempoOf = (change: TempoChange): number =>
  wholeTempo(MICROSECONDS_PER_MINUTE / (change.beatsPerMinute * toNumber(change.beat) * 4));

/**
 * The pick-up that a timeline begins with: a bar of whole semiquavers; null where it begins otherwise.
 *
 * After a count-in a pick-up needs no bar of its own: the two fill whole bars together.
 */
export const leadingPickup = (timeline: Timeline): LeadingPickup | null => {
  const [first, second] = timeline.bars;
  if (first === undefined || first.number !== undefined || second?.number === undefined) return null;
  const changes = timeline.tempo.toSorted((a, b) => a.start - b.start);
  const inside = changes.slice(1).some((change) => change.start < first.end);
  if (first.start > 0 || first.end <= 0 || inside) return null;
  const tempo = changes[0] === undefined ? DEFAULT_TEMPO : tempoOf(changes[0]);
  const semiquavers = Math.max(1, Math.round(ticksIn(first.end, tempo) / SEMIQUAVER));
  const shared = semiquavers % 4 === 0 ? 4 : semiquavers % 2 === 0 ? 2 : 1;
  return {
    metre: { kind: 'measured', count: semiquavers / shared, unit: 16 / shared },
    ticks: semiquavers * SEMIQUAVER,
    length: first.end,
  };
};

/**
 * The tempo map as a MIDI player will know it: whole microseconds, changes on whole ticks.
 *
 * Each stretch keeps the very second at which a player reaches its tick, so that rounding never adds up. A pick-up that
 * swing makes shorter or longer than it is printed gets a tempo of its own that fits it to its printed length; so the
 * bar lines that follow lie on the file's bars, and every second is still right.
 * @returns at least one stretch, the first at tick 0
 */
export const tempoMap = (
  changes: readonly TempoChange[],
  pickup: LeadingPickup | null,
): readonly TempoStretch[] => {
  const stretches: TempoStretch[] = [];
  for (const change of changes.toSorted((a, b) => a.start - b.start)) {
    const microsecondsPerCrotchet = tempoOf(change);
    const last = stretches.at(-1);
    if (last === undefined) stretches.push(...beginning(microsecondsPerCrotchet, pickup));
    else {
      const ticks = Math.max(0, Math.round(ticksIn(change.start - last.at, last.microsecondsPerCrotchet)));
      const at = seconds(last.at + secondsIn(ticks, last.microsecondsPerCrotchet));
      if (ticks === 0) stretches.pop();
      stretches.push({ tick: last.tick + ticks, at, microsecondsPerCrotchet });
    }
  }
  return stretches.length === 0 ? beginning(DEFAULT_TEMPO, pickup) : stretches;
};

const beginning = (tempo: number, pickup: LeadingPickup | null): readonly TempoStretch[] => {
  const start = { tick: 0, at: seconds(0) };
  const fitted =
    pickup === null
      ? tempo
      : wholeTempo((pickup.length * MICROSECONDS_PER_SECOND * TICKS_PER_CROTCHET) / pickup.ticks);
  if (pickup === null || Math.abs(fitted - tempo) <= 1) {
    return [{ ...start, microsecondsPerCrotchet: tempo }];
  }
  return [
    { ...start, microsecondsPerCrotchet: fitted },
    { tick: pickup.ticks, at: seconds(secondsIn(pickup.ticks, fitted)), microsecondsPerCrotchet: tempo },
  ];
};

/** The tick nearest to a moment. */
export type TickOf = (time: Seconds) => number;

/** Answers "at which tick does a player reach this second?" for one tempo map. */
export const tickFinder =
  (map: readonly TempoStretch[]): TickOf =>
  (time) => {
    const stretch = map.findLast((s) => s.at <= time) ?? map[0];
    if (stretch === undefined) return 0;
    return (
      stretch.tick + Math.max(0, Math.round(ticksIn(time - stretch.at, stretch.microsecondsPerCrotchet)))
    );
  };
