import {
  add,
  compare,
  equals,
  isMultipleOf,
  type Rational,
  rational,
  subtract,
  ZERO,
} from '../core/index.ts';
import { barLengthOf, chromaOf, notatedBeatOf } from '../music/index.ts';
import {
  type Bar,
  type Event,
  metricalOffsetOf,
  placedEvents,
  type Score,
  writtenLengthOf,
} from '../score/index.ts';
import { type Extent, type RouteStop, routeOf } from './route.ts';

/** An event as it is played: where it is written, how long it lasts this time. */
export interface LaidEvent {
  readonly event: Event;
  /** From the start of its bar, as written. */
  readonly onset: Rational;
  /** As played: the last one of a bar gives way to a pick-up, or fills the bar. */
  readonly length: Rational;
}

/** A bar as it is played, on the line of score time. */
export interface LaidBar {
  readonly bar: Bar;
  readonly part: string;
  /** Index in the part's written bars. */
  readonly index: number;
  /** Which time this bar is played, from 0 over the whole track. */
  readonly pass: number;
  /** Which time through the tune, from 0. */
  readonly time: number;
  /** Score time since the start of the first bar played. */
  readonly start: Rational;
  /** Where in its metre it begins: 0 but for pick-ups and rests of bars. */
  readonly offset: Rational;
  /** As played. */
  readonly length: Rational;
  /** What its metre asks; null in free metre. */
  readonly full: Rational | null;
  /** The next bar played goes on in the same bar of the metre. */
  readonly continues: boolean;
  /** It is not the bar written after the one played before it, or begins a part. */
  readonly jumped: boolean;
  /** The learner's turn in an echo track: the fiddle rests. */
  readonly answer: boolean;
  /** It is played another way than written; `bar` has that way's events. */
  readonly another: boolean;
  readonly events: readonly LaidEvent[];
}

/** A tune laid out in the order of playing. */
export interface Layout {
  readonly bars: readonly LaidBar[];
  /** Where the closing note begins and all of it ends, in score time; null when there is no note. */
  readonly closing: { readonly start: Rational; readonly end: Rational } | null;
}

/** A bar on its way to being laid. */
interface Draft extends RouteStop {
  readonly pass: number;
  readonly another: boolean;
  readonly jumped: boolean;
  offset: Rational;
  length: Rational;
  events: readonly LaidEvent[];
}

/** The bar as it is played the time `pass`, counted from 0: of several ways for one time the first counts. */
const asPlayed = (bar: Bar, pass: number): Bar => {
  const { ways = [] } = bar;
  const second = pass % 2 === 1 ? ways.find((way) => way.played === 'secondTimes') : undefined;
  const way = second ?? ways.find(({ played }) => played === 'everyTime');
  return way === undefined ? bar : { ...bar, events: way.events };
};

const draftsOf = (score: Score, extent: Extent): readonly Draft[] => {
  const counts = new Map<Bar, number>();
  const drafts: Draft[] = [];
  for (const stop of routeOf(score, extent)) {
    const before = drafts.at(-1);
    const pass = counts.get(stop.bar) ?? 0;
    counts.set(stop.bar, pass + 1);
    const bar = asPlayed(stop.bar, pass);
    drafts.push({
      ...stop,
      bar,
      pass,
      another: bar !== stop.bar,
      jumped: before === undefined || before.part !== stop.part || before.index !== stop.index - 1,
      offset: metricalOffsetOf(bar),
      length: writtenLengthOf(bar),
      events: placedEvents(bar).map(({ event, onset }) => ({ event, onset, length: event.length })),
    });
  }
  return drafts;
};

/** The bar's last event made longer, or shorter down to nothing. */
const stretchLast = (draft: Draft, by: Rational): void => {
  const last = draft.events.at(-1);
  draft.length = add(draft.length, by);
  if (last === undefined) return;
  const length = add(last.length, by);
  const kept = draft.events.slice(0, -1);
  draft.events = compare(length, ZERO) > 0 ? [...kept, { ...last, length }] : kept;
};

const closes = (bar: Bar): boolean =>
  bar.repeatEnd > 0 || bar.line === 'double' || bar.line === 'final' || bar.line === 'heavyDouble';

/** Where in a bar of the metre what comes next begins: a pick-up so long before its end, in another metre too. */
const meetingPlace = (full: Rational, next: Pick<Draft, 'bar' | 'offset'>): Rational => {
  const nextFull = barLengthOf(next.bar.metre);
  if (nextFull === null || compare(next.offset, ZERO) === 0) return full;
  return subtract(full, subtract(nextFull, next.offset));
};

/**
 * Makes two bars that are not written one after another fit, so that the beat goes on.
 *
 * A bar that stops short of what follows is filled by its last event. A full bar with a pick-up after it gives the
 * pick-up the time of its last event where that is long enough; else its own notes lead on already, and the pick-up is
 * left out.
 * @returns whether `next` is to be played
 */
const fitSeam = (current: Draft, next: Draft): boolean => {
  const full = barLengthOf(current.bar.metre);
  if (full === null) return true;
  if (!next.jumped && !closes(current.bar) && next.bar.role === 'full') return true;
  const after = add(current.offset, current.length);
  if (next.bar.role === 'restOfBar' && compare(after, full) >= 0) next.offset = ZERO;
  const target = meetingPlace(full, next);
  if (compare(target, current.offset) <= 0) return true;
  const missing = subtract(target, after);
  if (compare(missing, ZERO) > 0) stretchLast(current, missing);
  if (compare(missing, ZERO) >= 0 || next.bar.role !== 'pickup') return true;
  const last = current.events.at(-1)?.length ?? ZERO;
  if (current.events.length < 2 && compare(add(last, missing), ZERO) <= 0) return false;
  if (compare(add(last, missing), ZERO) < 0) return false;
  stretchLast(current, missing);
  return true;
};

/** The event that ends the tune: its last note, or the keynote on a beat before it when only a short lead follows. */
const closingEvent = (draft: Draft): LaidEvent | null => {
  const notes = draft.events.filter((e) => e.event.kind === 'note');
  const last = notes.at(-1);
  const tonic = draft.bar.key.tonic;
  if (last === undefined) return null;
  if (tonic === null) return last;
  const beat = notatedBeatOf(draft.bar.metre);
  const isKeynote = ({ event }: LaidEvent): boolean =>
    event.kind === 'note' && chromaOf(event.pitches[0]) === chromaOf(tonic);
  if (isKeynote(last)) return last;
  const keynote = notes.findLast((e) => isKeynote(e) && isMultipleOf(add(draft.offset, e.onset), beat));
  if (keynote === undefined) return last;
  const lead = subtract(draft.length, add(keynote.onset, keynote.length));
  return compare(lead, beat) <= 0 ? keynote : last;
};

/** The last bar ends: its closing note is held to the end of the bar, what stood after it is left out. */
const endWith = (draft: Draft): LaidEvent | null => {
  const closing = closingEvent(draft);
  if (closing === null || closing.event.kind !== 'note') return null;
  const full = barLengthOf(draft.bar.metre);
  const after = add(draft.offset, draft.length);
  const end = full !== null && compare(after, full) < 0 ? subtract(full, draft.offset) : draft.length;
  const held: LaidEvent = {
    event: { ...closing.event, tiedToNext: false },
    onset: closing.onset,
    length: subtract(end, closing.onset),
  };
  draft.events = [...draft.events.filter((e) => compare(e.onset, closing.onset) < 0), held];
  draft.length = end;
  return held;
};

/** A tune and what of it is played. */
export interface TuneExtent {
  readonly score: Score;
  readonly extent: Extent;
}

/**
 * Tunes one after another in the order of playing: repeats unfolded, every seam made to keep the beat, those between
 * tunes too, with an end that ends.
 * @returns one layout for each tune, all on one line of score time; only the last one has a closing note
 */
export const layOutInARow = (tunes: readonly TuneExtent[]): readonly Layout[] => {
  const drafts: Draft[] = [];
  const tuneOf = new Map<Draft, number>();
  tunes.forEach(({ score, extent }, tune) => {
    for (const draft of draftsOf(score, extent)) {
      const before = drafts.at(-1);
      if (before !== undefined && !fitSeam(before, draft)) continue;
      drafts.push(draft);
      tuneOf.set(draft, tune);
    }
  });
  const final = drafts.at(-1);
  const held = final === undefined ? null : endWith(final);
  const bars = laidBars(drafts);
  const last = bars.at(-1);
  const closing =
    held === null || last === undefined
      ? null
      : { start: add(last.start, held.onset), end: add(last.start, last.length) };
  return tunes.map((_, tune) => ({
    bars: bars.filter((_bar, i) => tuneOf.get(drafts[i] as Draft) === tune),
    closing: tune === tunes.length - 1 ? closing : null,
  }));
};

const laidBars = (drafts: readonly Draft[]): readonly LaidBar[] => {
  let start = rational(0);
  return drafts.map((draft, i): LaidBar => {
    const next = drafts[i + 1];
    const after = add(draft.offset, draft.length);
    const full = barLengthOf(draft.bar.metre);
    const laid: LaidBar = {
      ...draft,
      start,
      full,
      continues:
        next !== undefined &&
        full !== null &&
        compare(next.offset, ZERO) > 0 &&
        equals(after, meetingPlace(full, next)),
    };
    start = add(start, draft.length);
    return laid;
  });
};
