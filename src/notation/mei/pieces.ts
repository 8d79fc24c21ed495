import { type Address, type Bar, type Event, placedEvents, type Rest } from '../../score/index.ts';
import { flagsOf, noteValuesOf, type TimeRatio, type WrittenValue } from '../noteValues.ts';
import type { EventAccidentals } from '../printedAccidentals.ts';
import { elementIdOf } from './elementId.ts';

/** One sign on paper: an event, or the part of it that one note value can say. */
export interface Piece {
  readonly event: Event;
  readonly value: WrittenValue;
  /** Id of the melody's note, or of the rest. */
  readonly id: string;
  /** Id of what slurs and signs hang on: the chord, where there is one. */
  readonly anchor: string;
  readonly first: boolean;
  readonly last: boolean;
  readonly accidentals: EventAccidentals;
  readonly address: Address;
  /** Beamed to the next piece of the bar. */
  readonly beamed: boolean;
  /** Which tuplet of the bar it stands in, by number; null: none. */
  readonly tuplet: number | null;
  readonly ratio: TimeRatio | null;
}

const NO_ACCIDENTALS: EventAccidentals = { graces: [], pitches: [] };

/** A rest that is a whole bar long is centred in it and says nothing about its value. */
export const isBarRest = (bar: Bar): boolean =>
  bar.events.length === 1 && bar.events[0]?.kind === 'rest' && bar.role === 'full';

type Draft = Omit<Piece, 'beamed' | 'tuplet'>;

const draftsOf = (
  version: string,
  event: Event,
  address: Address,
  accidentals: EventAccidentals,
): readonly Draft[] => {
  if (event.length.num <= 0) return [];
  const values = noteValuesOf(event.length, event.tuplet);
  const base = elementIdOf(version, address);
  return values.map((value, i) => {
    const id = i === 0 ? base : `${base}.p${i}`;
    const chord = event.kind === 'note' && event.pitches.length > 1;
    return {
      event,
      value,
      id,
      anchor: chord ? `${id}.c` : id,
      first: i === 0,
      last: i === values.length - 1,
      accidentals: i === 0 ? accidentals : NO_ACCIDENTALS,
      address,
      ratio: value.ratio,
    };
  });
};

const isSameRatio = (a: TimeRatio, b: TimeRatio): boolean => a.actual === b.actual && a.normal === b.normal;

/** Whether a piece goes on with the tuplet of the piece before it. */
const continuesTuplet = (before: Draft | undefined, piece: Draft): boolean => {
  if (before?.ratio == null || piece.ratio === null || !isSameRatio(before.ratio, piece.ratio)) return false;
  const [a, b] = [before.event.tuplet, piece.event.tuplet];
  if (a === null || b === null) return false;
  return before.event === piece.event || b.index === a.index + 1;
};

const hasFlags = (piece: Draft): boolean => flagsOf(piece.value.value) > 0;
const isHidden = (event: Event): event is Rest => event.kind === 'rest' && !event.visible;

/**
 * The signs of a bar in order, with beams and tuplets decided.
 * @param version - begins the ids
 * @param accidentals - of the bar's events, in order
 */
export const piecesOf = (
  version: string,
  bar: Bar,
  place: { readonly part: string; readonly index: number },
  accidentals: readonly EventAccidentals[],
): readonly Piece[] => {
  const drafts = placedEvents(bar).flatMap(({ event, onset }, i) =>
    draftsOf(version, event, { part: place.part, bar: place.index, onset }, accidentals[i] ?? NO_ACCIDENTALS),
  );
  let tuplet = -1;
  return drafts.map((piece, i) => {
    const next = drafts[i + 1];
    if (piece.ratio !== null && !continuesTuplet(drafts[i - 1], piece)) tuplet += 1;
    const joined = piece.last ? piece.event.beamedToNext : true;
    return {
      ...piece,
      tuplet: piece.ratio === null ? null : tuplet,
      beamed:
        joined &&
        next !== undefined &&
        hasFlags(piece) &&
        hasFlags(next) &&
        !isHidden(piece.event) &&
        !isHidden(next.event),
    };
  });
};
