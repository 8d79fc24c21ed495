import { add, multiply, type Rational, rational, ZERO } from '../core/index.ts';
import type { Event } from '../score/index.ts';

/** `actual` notes in the time of `normal`. */
export interface Ratio {
  readonly actual: number;
  readonly normal: number;
}

/** An event before its tuplet is closed, with where a bracket begins or ends. */
export interface LooseEvent {
  readonly event: Event;
  readonly ratio: Ratio | null;
  readonly bracketStarts: boolean;
  readonly bracketStops: boolean;
}

const isPowerOfTwo = (n: number): boolean => n > 0 && Number.isInteger(Math.log2(n));

/** Whether notes that last so long together fill `actual` notes of a plain value. */
const fills = (played: Rational, { normal }: Ratio): boolean => {
  const one = multiply(played, rational(1, normal));
  return one.num > 0 && isPowerOfTwo(one.num) && isPowerOfTwo(one.den);
};

const sameRatio = (a: Ratio | null, b: Ratio | null): boolean =>
  a?.actual === b?.actual && a?.normal === b?.normal;

/** The events that stand together in one tuplet; events outside of tuplets stand alone. */
const groupsOf = (events: readonly LooseEvent[]): readonly (readonly LooseEvent[])[] => {
  const groups: LooseEvent[][] = [];
  let open: LooseEvent[] | null = null;
  let played: Rational = ZERO;
  let bracketed = false;
  for (const loose of events) {
    const { ratio } = loose;
    const first = open?.[0];
    const goesOn = first !== undefined && sameRatio(first.ratio, ratio) && !loose.bracketStarts;
    if (open !== null && goesOn) open.push(loose);
    else {
      open = [loose];
      groups.push(open);
      played = ZERO;
      bracketed = loose.bracketStarts;
    }
    played = add(played, loose.event.length);
    const ends = bracketed ? loose.bracketStops : ratio !== null && open.length > 1 && fills(played, ratio);
    if (ratio === null || ends) open = null;
  }
  return groups;
};

/** Every event with its place in its tuplet: by the file's brackets, else when the notes fill the tuplet's time. */
export const closeTuplets = (events: readonly LooseEvent[]): readonly Event[] =>
  groupsOf(events).flatMap((group) =>
    group.map(({ event, ratio }, index) =>
      ratio === null ? event : { ...event, tuplet: { ...ratio, index, count: group.length } },
    ),
  );
