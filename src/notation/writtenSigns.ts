import { add, asWholeNotes, isMultipleOf, multiply, rational, type WholeNotes } from '../core/index.ts';
import { type Bar, type Event, metricalOffsetOf, placedEvents } from '../score/index.ts';
import { flagsOf, lengthOfValue, noteValuesOf, type WrittenValue } from './noteValues.ts';

/** What one beam does at a note. */
export type BeamState = 'begin' | 'continue' | 'end' | 'forwardHook' | 'backwardHook';

/** One note, chord or rest sign on paper; an event that no single value expresses is several, tied. */
export interface WrittenSign {
  readonly event: Event;
  /** Index of the event in its bar. */
  readonly eventIndex: number;
  /** Score time from the start of the bar. */
  readonly onset: WholeNotes;
  readonly value: WrittenValue;
  /** Whether it is the event's first, its last sign. */
  readonly first: boolean;
  readonly last: boolean;
  /** Quaver beam first; empty where the sign has flags of its own or none. */
  readonly beams: readonly BeamState[];
  /** Where a tuplet bracket begins or ends; a tuplet that is not whole in its bar has none. */
  readonly bracket: 'start' | 'stop' | 'both' | null;
  /** At a bracket's start: whether one beam joins just the tuplet's notes, so that a number alone is enough. */
  readonly beamedTuplet: boolean;
}

type BareSign = Omit<WrittenSign, 'beams' | 'bracket' | 'beamedTuplet'>;

const bareSigns = (bar: Bar): readonly BareSign[] =>
  placedEvents(bar).flatMap(({ event, onset }, eventIndex) => {
    if (event.length.num <= 0) return [];
    const values = noteValuesOf(event.length, event.tuplet);
    let at = onset;
    return values.map((value, i): BareSign => {
      const sign = { event, eventIndex, onset: at, value, first: i === 0, last: i === values.length - 1 };
      at = asWholeNotes(add(at, value.length));
      return sign;
    });
  });

const isBeamable = (sign: BareSign): boolean => sign.event.kind === 'note' && flagsOf(sign.value.value) > 0;

const isJoined = (sign: BareSign, next: BareSign | undefined): boolean =>
  next !== undefined &&
  isBeamable(sign) &&
  isBeamable(next) &&
  (sign.eventIndex === next.eventIndex || sign.event.beamedToNext);

/** Which way a lone partial beam points: to the sign that it shares its next larger value with. */
const hookOf = (group: readonly BareSign[], at: number, offset: WholeNotes): BeamState => {
  const sign = group[at];
  if (at === 0 || sign === undefined) return 'forwardHook';
  if (at === group.length - 1) return 'backwardHook';
  const pair = multiply(lengthOfValue(sign.value.value), rational(2));
  return isMultipleOf(add(offset, sign.onset), pair) ? 'forwardHook' : 'backwardHook';
};

const beamsOf = (group: readonly BareSign[], at: number, offset: WholeNotes): readonly BeamState[] => {
  const flags = (i: number): number => {
    const sign = group[i];
    return sign === undefined ? 0 : flagsOf(sign.value.value);
  };
  if (group.length < 2) return [];
  return Array.from({ length: flags(at) }, (_, level): BeamState => {
    const before = flags(at - 1) > level;
    const after = flags(at + 1) > level;
    if (before && after) return 'continue';
    if (before) return 'end';
    return after ? 'begin' : hookOf(group, at, offset);
  });
};

/** Indices of the events that begin and end a tuplet that is whole: all its events, in order, in this bar. */
const tupletEdges = (
  events: readonly Event[],
): { starts: ReadonlySet<number>; stops: ReadonlySet<number> } => {
  const starts = new Set<number>();
  const stops = new Set<number>();
  events.forEach((event, i) => {
    const first = event.tuplet;
    if (first === null || first.index !== 0) return;
    const all = events.slice(i, i + first.count);
    const whole = all.every(
      ({ tuplet }, k) =>
        tuplet?.index === k &&
        tuplet.count === first.count &&
        tuplet.actual === first.actual &&
        tuplet.normal === first.normal,
    );
    if (!whole || all.length < first.count) return;
    starts.add(i);
    stops.add(i + first.count - 1);
  });
  return { starts, stops };
};

const isBeamedTuplet = (signs: readonly WrittenSign[], at: number): boolean => {
  if (signs[at]?.bracket !== 'start') return false;
  const stop = signs.findIndex((sign, i) => i > at && sign.bracket === 'stop');
  const states = signs.slice(at, stop + 1).map((sign) => sign.beams[0]);
  const inner = states.slice(1, -1).every((state) => state === 'continue');
  return states[0] === 'begin' && states.at(-1) === 'end' && inner;
};

/**
 * Answers "which signs stand in this bar?": notes and rests with value, dots, beams and tuplet brackets.
 *
 * Beams follow the writing (`beamedToNext`), over notes that have flags; a rest ends a beam. Grace notes are not
 * among the signs. Events without length leave no sign.
 */
export const writtenSignsOf = (bar: Bar): readonly WrittenSign[] => {
  const bare = bareSigns(bar);
  const offset = metricalOffsetOf(bar);
  const { starts, stops } = tupletEdges(bar.events);
  const groups: BareSign[][] = [];
  bare.forEach((sign, i) => {
    const group = groups.at(-1);
    const before = bare[i - 1];
    if (group !== undefined && before !== undefined && isJoined(before, sign)) group.push(sign);
    else groups.push([sign]);
  });
  const signs = groups.flatMap((group) =>
    group.map((sign, i): WrittenSign => {
      const starting = sign.first && starts.has(sign.eventIndex);
      const stopping = sign.last && stops.has(sign.eventIndex);
      const bracket = starting && stopping ? 'both' : starting ? 'start' : stopping ? 'stop' : null;
      return { ...sign, beams: beamsOf(group, i, offset), bracket, beamedTuplet: false };
    }),
  );
  return signs.map((sign, i) => ({ ...sign, beamedTuplet: isBeamedTuplet(signs, i) }));
};
