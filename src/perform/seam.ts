import { add, asWholeNotes, compare, type Rational, subtract, type WholeNotes, ZERO } from '../core/index.ts';
import type { Bar, Event, Score } from '../score/index.ts';
import { type LaidBar, layOutInARow } from './layout.ts';

/** An event of the bar in which one tune goes over into the next. */
export interface SeamEvent {
  readonly event: Event;
  /** From the start of the bar, its pick-up's place in the metre counted. */
  readonly onset: WholeNotes;
  /** As played. */
  readonly length: WholeNotes;
  /** Whether it belongs to the next tune's pick-up. */
  readonly next: boolean;
}

/** How one tune goes over into the next when it is played for the last time. */
export interface Seam {
  /** The last written bar of the tune before. */
  readonly bar: Bar;
  /** Its part and its index in the part's bars. */
  readonly part: string;
  readonly index: number;
  /** That bar as played, with the next tune's pick-up in it. */
  readonly events: readonly SeamEvent[];
  /** From its start to the next tune's first full bar. */
  readonly length: WholeNotes;
  /** Whether the next tune has a pick-up, and whether there is room for it. */
  readonly pickup: 'played' | 'leftOut' | 'none';
  /** By how much the last note became longer; below zero: what the pick-up has taken from it. */
  readonly change: Rational;
}

const ONCE = { times: 1, passage: null, echo: null } as const;

/** The bars that share the last bar of the metre, in order. */
const lastWhole = (bars: readonly LaidBar[]): readonly LaidBar[] => {
  let from = bars.length - 1;
  while (from > 0 && bars[from - 1]?.continues === true) from -= 1;
  return bars.slice(Math.max(0, from));
};

const eventsIn = (bar: LaidBar, origin: Rational, next: boolean): readonly SeamEvent[] =>
  bar.events.map(({ event, onset, length }) => ({
    event,
    onset: asWholeNotes(subtract(add(bar.start, onset), origin)),
    length: asWholeNotes(length),
    next,
  }));

/**
 * What is played in the bar that leads from one tune to the next, where nothing stops between them?
 *
 * The same seam as inside a tune: the next tune's pick-up lies in the last bar, whose last note gives way to it or fills
 * the bar; a pick-up without room there is left out.
 * @returns null when one of them has no bars
 */
export const seamOf = (current: Score, next: Score): Seam | null => {
  const [before, after] = layOutInARow([
    { score: current, extent: ONCE },
    { score: next, extent: ONCE },
  ]);
  const whole = lastWhole(before?.bars ?? []);
  const [first] = whole;
  const last = whole.at(-1);
  const opening = after?.bars[0];
  if (first === undefined || last === undefined || opening === undefined) return null;
  const leading = after?.bars.slice(
    0,
    after.bars.findIndex((bar) => compare(bar.offset, ZERO) === 0),
  );
  const origin = subtract(first.start, first.offset);
  const target = after?.bars.find((bar) => compare(bar.offset, ZERO) === 0)?.start ?? opening.start;
  const written = last.bar.events.reduce<Rational>((sum, event) => add(sum, event.length), ZERO);
  const hasPickup = next.parts.find((part) => part.bars.length > 0)?.bars[0]?.role === 'pickup';
  return {
    bar: last.bar,
    part: last.part,
    index: last.index,
    events: [
      ...whole.flatMap((bar) => eventsIn(bar, origin, false)),
      ...(leading ?? []).flatMap((bar) => eventsIn(bar, origin, true)),
    ],
    length: asWholeNotes(subtract(target, origin)),
    pickup: !hasPickup ? 'none' : opening.bar.role === 'pickup' ? 'played' : 'leftOut',
    change: subtract(last.length, written),
  };
};
