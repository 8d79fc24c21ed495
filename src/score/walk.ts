import {
  add,
  asWholeNotes,
  compare,
  formatRational,
  sum,
  type WholeNotes,
  wholeNotes,
  ZERO,
} from '../core/index.ts';
import { barLengthOf, formatPitch } from '../music/index.ts';
import type { Address } from './address.ts';
import type { Event, Note } from './event.ts';
import type { Bar, Score } from './score.ts';

/** An event with its place in the bar. */
export interface PlacedEvent {
  readonly event: Event;
  readonly onset: WholeNotes;
}

/** The bar's events with their onsets from the bar's start. */
export const placedEvents = (bar: Bar): readonly PlacedEvent[] => {
  let onset = ZERO;
  return bar.events.map((event) => {
    const placed = { event, onset: asWholeNotes(onset) };
    onset = add(onset, event.length);
    return placed;
  });
};

/** How long the bar's events last together, whatever its metre asks. */
export const writtenLengthOf = (bar: Bar): WholeNotes => asWholeNotes(sum(bar.events.map((e) => e.length)));

/** Whether the bar is exactly as long as its metre asks; always true in free metre. */
export const isFull = (bar: Bar): boolean => {
  const full = barLengthOf(bar.metre);
  return full === null || compare(writtenLengthOf(bar), full) === 0;
};

/** Where in its metre a bar's first event stands: zero but for pick-ups and rests of bars, which are counted from the end. */
export const metricalOffsetOf = (bar: Bar): WholeNotes => {
  const full = barLengthOf(bar.metre);
  if (full === null || bar.role === 'full') return wholeNotes(0);
  const length = writtenLengthOf(bar);
  return compare(length, full) >= 0
    ? wholeNotes(0)
    : asWholeNotes(add(full, { num: -length.num, den: length.den }));
};

/** A written bar and where it is. */
export interface PlacedBar {
  readonly bar: Bar;
  readonly part: string;
  /** Index in the part. */
  readonly index: number;
}

/** All written bars in order. */
export const barsOf = (score: Score): readonly PlacedBar[] =>
  score.parts.flatMap((part) => part.bars.map((bar, index) => ({ bar, part: part.label, index })));

/** A note and its address. */
export interface PlacedNote {
  readonly note: Note;
  readonly address: Address;
}

/** All written notes in order, rests left out, tied notes each for itself. */
export const notesOf = (score: Score): readonly PlacedNote[] =>
  barsOf(score).flatMap(({ bar, part, index }) =>
    placedEvents(bar).flatMap(({ event, onset }) =>
      event.kind === 'note' ? [{ note: event, address: { part, bar: index, onset } }] : [],
    ),
  );

/**
 * What the bar sounds like, as text: equal bars have equal fingerprints, whatever is printed on top of them.
 *
 * Pitches and lengths only, the melody's pitch for chords; ornaments, bows and chords do not count.
 */
export const fingerprintOf = (bar: Pick<Bar, 'events'>): string =>
  bar.events
    .map((e) => {
      const length = formatRational(e.length);
      return e.kind === 'rest'
        ? `z${length}`
        : `${formatPitch(e.pitches[0])}:${length}${e.tiedToNext ? '-' : ''}`;
    })
    .join(' ');

/**
 * The note that runs through the tune's busy bars: the length that takes up most time among flagged notes.
 *
 * Notes longer than a quaver never count as running; tuplet notes count as the pair they replace.
 * @returns 1/8, 1/16 …; 1/8 when nothing is shorter than a crotchet
 */
export const runningNoteOf = (score: Score): WholeNotes => {
  // By denominator: only 1/8, 1/16 … count.
  const time = new Map<number, number>();
  for (const part of score.parts) {
    for (const bar of part.bars) {
      for (const event of bar.events) {
        const { num, den } = event.length;
        if (event.kind === 'note' && event.tuplet === null && num === 1 && den >= 8)
          time.set(den, (time.get(den) ?? 0) + 1 / den);
      }
    }
  }
  const best = [...time].sort((a, b) => b[1] - a[1])[0];
  return wholeNotes(1, best?.[0] ?? 8);
};
