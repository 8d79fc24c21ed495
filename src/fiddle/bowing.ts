import { add, compare, isMultipleOf, type Rational, ZERO } from '../core/index.ts';
import {
  type Address,
  type Bar,
  type Bow,
  metricalOffsetOf,
  type Note,
  type Part,
  placedEvents,
  type Score,
} from '../score/index.ts';
import { danceOfScore } from './runningUnit.ts';

/** How the bow goes on one note. */
export interface BowedNote {
  readonly address: Address;
  readonly bow: Bow;
  /** Whether a stroke begins here; else the one before goes on (slur, tie). */
  readonly begins: boolean;
  /** Whether the direction is written on the note. */
  readonly written: boolean;
  /** Whether the bow is lifted and set again in the direction that it had: a written bow, or where a part begins. */
  readonly retaken: boolean;
}

/** A note on its way to a direction. */
export interface Spot {
  readonly note: Note;
  readonly address: Address;
  readonly bar: Bar;
  readonly begins: boolean;
  /** Whether a rest of a beat or more ends here, on a beat. */
  readonly afterRest: boolean;
}

/** The other direction. */
export const other = (bow: Bow): Bow => (bow === 'down' ? 'up' : 'down');

/** Marks where strokes begin: not inside a slur, not on the second of tied notes; a written bow always begins one. */
export const spotsOf = (part: Part, beat: Rational): readonly Spot[] => {
  const spots: Spot[] = [];
  let depth = 0;
  let tied = false;
  let silence: Rational = ZERO;
  part.bars.forEach((bar, index) => {
    if (bar.repeatStart > 0 || index === 0) depth = 0;
    const offset = metricalOffsetOf(bar);
    for (const { event, onset } of placedEvents(bar)) {
      if (event.kind === 'rest') {
        silence = add(silence, event.length);
        tied = false;
        continue;
      }
      const onBeat = isMultipleOf(add(onset, offset), beat);
      spots.push({
        note: event,
        address: { part: part.label, bar: index, onset },
        bar,
        begins: event.bow !== null || silence.num > 0 || (depth === 0 && !tied),
        afterRest: onBeat && compare(silence, beat) >= 0,
      });
      silence = ZERO;
      tied = event.tiedToNext;
      depth = Math.max(0, depth + event.slurs.opens - event.slurs.closes);
    }
  });
  return spots;
};

/** The direction with which a part or repeat begins so that its first full bar starts down; written bows lead. */
export const openingBow = (spots: readonly Spot[], from: number): Bow => {
  const after = spots.findIndex((s, i) => i >= from && s.bar.role !== 'pickup');
  const end = after < 0 ? spots.length : after;
  const pickup = spots.slice(from, end).filter((s) => s.begins);
  const said = pickup.findIndex((s) => s.note.bow !== null);
  const written = pickup[said]?.note.bow;
  if (written != null) return said % 2 === 0 ? written : other(written);
  const carried = spots[end]?.begins === false;
  return (pickup.length + (carried ? 1 : 0)) % 2 === 0 ? 'down' : 'up';
};

/** The direction of every note of a part; `last` is the stroke that the part before ended on. */
const bowedPart = (part: Part, beat: Rational, last: Bow | null): readonly BowedNote[] => {
  const spots = spotsOf(part, beat);
  const bowed: BowedNote[] = [];
  let before = last;
  let beforeEndings: Bow | null = null;
  spots.forEach((spot, i) => {
    const { note, address, bar } = spot;
    const entersBar = spots[i - 1]?.address.bar !== address.bar;
    const opens = i === 0 || (entersBar && bar.repeatStart > 0);
    if (entersBar && bar.ending !== null) {
      if (bar.ending.includes(1) || beforeEndings === null) beforeEndings = before;
      else before = beforeEndings;
    }
    const next = opens
      ? openingBow(spots, i)
      : spot.afterRest
        ? 'down'
        : before === null
          ? 'down'
          : other(before);
    const bow = spot.begins || opens ? (note.bow ?? next) : (before ?? 'down');
    const begins = spot.begins || opens;
    const retaken = begins && before === bow && !spot.afterRest;
    bowed.push({ address, bow, begins, written: note.bow !== null, retaken });
    before = bow;
  });
  return bowed;
};

/**
 * In which direction does the bow go on every note?
 *
 * Strokes alternate over the slurs and ties as written; a written bow is kept and what follows alternates from it. A part
 * (and a repeat inside one) begins so that its first full bar starts down: one pick-up note up, two separate ones
 * down–up, a slurred group up. A slur that leads from the pick-up into the bar starts down. After a rest of a beat or
 * more a note on a beat starts down. A second ending goes on from where the first one did. Nothing is repaired: a bar with
 * an odd number of strokes turns the bow round, see `bowedBarsOf`.
 * @returns every note in written order
 * @see Source: the pick-ups, Ryan's Mammoth Collection 1883 as counted: one note 331 up : 0, two separate 123 down : 16,
 * two slurred 160 up : 0, three slurred 86 up : 8. Rests: ours
 */
export const bowingOf = (score: Score): readonly BowedNote[] => {
  const { beat } = danceOfScore(score);
  const bowed: BowedNote[] = [];
  for (const part of score.parts) bowed.push(...bowedPart(part, beat, bowed.at(-1)?.bow ?? null));
  return bowed;
};
