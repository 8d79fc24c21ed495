import {
  add,
  asWholeNotes,
  compare,
  divide,
  floorOf,
  isMultipleOf,
  type Rational,
  rational,
} from '../core/index.ts';
import { isCompound, type Metre, notatedBeatOf } from '../music/index.ts';
import type { Event } from '../score/index.ts';

/** A crotchet and longer has no flag. */
const CROTCHET = rational(1, 4);

/** How far a beam may reach: the beat, but half a bar for the quavers of simple metres in crotchets. Common practice. */
const beamSpan = (metre: Metre): Rational => {
  const beat = notatedBeatOf(metre);
  if (isCompound(metre) || metre.kind === 'free') return beat;
  const half = metre.unit === 4 && metre.count % 2 === 0 && metre.count > 2;
  return half ? rational(1, 2) : beat;
};

/**
 * The events with their beams set anew where the rhythm has changed.
 *
 * Two flagged events are beamed when they stand in one span of the metre; where both are as in the bar they come
 * from, the writer's own grouping stays.
 * @param offset - where in its metre the bar begins
 * @param written - the beam that an event had, when it and its follower are as written
 */
export const withBeams = (
  events: readonly Event[],
  metre: Metre,
  written: { readonly offset: Rational; readonly beamOf: (index: number) => boolean | null },
): readonly Event[] => {
  const span = beamSpan(metre);
  let at: Rational = written.offset;
  return events.map((event, i) => {
    const end = add(at, event.length);
    const next = events[i + 1];
    const flagged = (e: Event | undefined): boolean => e !== undefined && compare(e.length, CROTCHET) < 0;
    const bothFlagged = flagged(event) && flagged(next);
    const sameSpan = !isMultipleOf(end, span) && floorOf(divide(at, span)) === floorOf(divide(end, span));
    at = end;
    const noRest = event.kind === 'note' && next?.kind === 'note';
    const beamedToNext = written.beamOf(i) ?? (bothFlagged && sameSpan && noRest);
    return beamedToNext === event.beamedToNext ? event : { ...event, beamedToNext };
  });
};

/** A length that one note head with dots can show: 1, 3 or 7 times a power of two. */
export const isNotatable = (length: Rational): boolean => {
  const isPowerOfTwo = (n: number): boolean => Number.isInteger(Math.log2(n));
  const odd = length.num / (length.num & -length.num);
  return (
    isPowerOfTwo(length.den) && (odd === 1 || odd === 3 || odd === 7) && compare(length, rational(4)) < 0
  );
};

/** Cuts a length into notatable ones, the longest first. */
export const notatablePieces = (length: Rational): readonly Rational[] => {
  if (isNotatable(length) || !Number.isInteger(Math.log2(length.den))) return [length];
  const pieces: Rational[] = [];
  let left = length;
  for (let size = 2; left.num > 0 && size > 1 / 1024; size /= 2) {
    const piece = size >= 1 ? rational(size) : rational(1, 1 / size);
    while (compare(piece, left) <= 0) {
      pieces.push(piece);
      left = add(left, rational(-piece.num, piece.den));
    }
  }
  return pieces.map(asWholeNotes);
};
