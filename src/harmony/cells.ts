import {
  add,
  asWholeNotes,
  compare,
  minOf,
  subtract,
  toNumber,
  type WholeNotes,
  wholeNotes,
  ZERO,
} from '../core/index.ts';
import { barLengthOf, chromaOf, isCompound, type Metre, notatedBeatOf } from '../music/index.ts';
import {
  type Bar,
  barsOf,
  metricalOffsetOf,
  type PlacedBar,
  placedEvents,
  type Score,
  writtenLengthOf,
} from '../score/index.ts';
import { type Tonality, tonalityOf } from './tonality.ts';

/** How strongly the metre stresses a moment: 0 off the beat, 1 a beat, 2 the first beat of a bar or half. */
export type Accent = 0 | 1 | 2;

/** A melody note as the chord model hears it. */
export interface HeardNote {
  /** Semitones above the keynote, 0…11. */
  readonly degree: number;
  /** Sounding time inside the cell. */
  readonly crotchets: number;
  readonly accent: Accent;
}

/** How many accents there are. */
export const ACCENTS = 3;

/** Where in its part a bar can stand, as far as chords care. */
export const PHRASE_PLACES = [
  'first',
  'inside',
  'beforeHalfClose',
  'halfClose',
  'beforeClose',
  'close',
] as const;
/** Where in its part a bar stands. */
export type PhrasePlace = (typeof PHRASE_PLACES)[number];

/** The smallest stretch that can have a chord of its own: half a bar, or the whole of a bar that does not halve. */
export interface Cell {
  readonly part: string;
  readonly bar: number;
  readonly onset: WholeNotes;
  readonly length: WholeNotes;
  readonly tonality: Tonality;
  readonly notes: readonly HeardNote[];
  readonly place: PhrasePlace;
  /** Whether it begins its bar (by metre: the rest of a split bar does not). */
  readonly opensBar: boolean;
}

/** Crotchets in a whole note. */
const CROTCHETS = 4;
/** Bars in half a phrase and in a phrase. Common practice. */
const HALF_PHRASE = 4;
const PHRASE = 8;

/** Where a bar of this metre may change its chord: in the middle, in three-beat bars before the last beat; null in free metre. */
const turningPointOf = (metre: Metre): WholeNotes | null => {
  const length = barLengthOf(metre);
  if (length === null || metre.kind === 'free') return null;
  const beats = isCompound(metre) ? metre.count / 3 : metre.count;
  if (beats % 2 === 0) return wholeNotes(length.num, length.den * 2);
  if (beats === 3) return wholeNotes(length.num * 2, length.den * 3);
  return null;
};

const accentAt = (at: WholeNotes, metre: Metre, turningPoint: WholeNotes | null): Accent => {
  if (compare(at, ZERO) === 0 || (turningPoint !== null && compare(at, turningPoint) === 0)) return 2;
  const inBeats = toNumber(at) / toNumber(notatedBeatOf(metre));
  return Number.isInteger(inBeats) ? 1 : 0;
};

/** The bar's place in the phrase by its ordinal among the part's counted bars. */
const placeOf = (ordinal: number, count: number): PhrasePlace => {
  if (ordinal === count - 1) return 'close';
  if (ordinal === count - 2) return 'beforeClose';
  if (ordinal % PHRASE === PHRASE - 1) return 'close';
  if (ordinal % PHRASE === PHRASE - 2) return 'beforeClose';
  if (ordinal % HALF_PHRASE === HALF_PHRASE - 1) return 'halfClose';
  if (ordinal % HALF_PHRASE === HALF_PHRASE - 2) return 'beforeHalfClose';
  return ordinal === 0 ? 'first' : 'inside';
};

/** Ordinals of a part's bars in its phrase: later endings stand where the first stood, pick-ups have none. */
const ordinalsOf = (bars: readonly Bar[]): readonly (number | null)[] => {
  let next = 0;
  let endingsFrom: number | null = null;
  return bars.map((bar) => {
    if (bar.ending !== null) {
      if (bar.ending.includes(1) || endingsFrom === null) endingsFrom = next;
      else next = endingsFrom;
    }
    if (bar.repeatStart > 0) endingsFrom = null;
    if (bar.role === 'pickup') return null;
    if (bar.role === 'restOfBar') return Math.max(0, next - 1);
    next += 1;
    return next - 1;
  });
};

/** The melody between two moments of a bar (from its first event), as the model hears it. */
export const heardBetween = (
  placed: PlacedBar,
  tonality: Tonality,
  from: WholeNotes,
  to: WholeNotes,
): readonly HeardNote[] => {
  const { bar } = placed;
  const offset = metricalOffsetOf(bar);
  const turningPoint = turningPointOf(bar.metre);
  const tonic = chromaOf(tonality.tonic);
  return placedEvents(bar).flatMap(({ event, onset }): HeardNote[] => {
    if (event.kind !== 'note') return [];
    const start = compare(onset, from) < 0 ? from : onset;
    const end = minOf(add(onset, event.length), to);
    if (compare(end, start) <= 0) return [];
    return [
      {
        degree: (chromaOf(event.pitches[0]) - tonic + 12) % 12,
        crotchets: toNumber(subtract(end, start)) * CROTCHETS,
        accent: accentAt(asWholeNotes(add(start, offset)), bar.metre, turningPoint),
      },
    ];
  });
};

/** Where the bar is cut, from its first event: nowhere, or at the turning point of its metre. */
const cutsOf = (bar: Bar): readonly WholeNotes[] => {
  const turningPoint = turningPointOf(bar.metre);
  if (turningPoint === null) return [];
  const cut = asWholeNotes(subtract(turningPoint, metricalOffsetOf(bar)));
  return compare(cut, ZERO) > 0 && compare(cut, writtenLengthOf(bar)) < 0 ? [cut] : [];
};

/** Places in their phrases of all written bars in order; null for pick-ups. */
const placesOf = (score: Score): readonly (PhrasePlace | null)[] =>
  score.parts.flatMap(({ bars }) => {
    const ordinals = ordinalsOf(bars);
    const count = Math.max(0, ...ordinals.map((n) => (n ?? -1) + 1));
    return ordinals.map((ordinal) => (ordinal === null ? null : placeOf(ordinal, count)));
  });

/** The place in its phrase of every written bar in order; a pick-up counts as the bar that it leads into. */
export const barPlacesOf = (score: Score): readonly PhrasePlace[] =>
  placesOf(score).map((place) => place ?? 'first');

const cellsOfBar = (placed: PlacedBar, place: PhrasePlace, tonality: Tonality): readonly Cell[] => {
  const length = writtenLengthOf(placed.bar);
  const edges = [wholeNotes(0), ...cutsOf(placed.bar), length];
  return edges.slice(0, -1).map((from, i): Cell => {
    const to = edges[i + 1] ?? length;
    return {
      part: placed.part,
      bar: placed.index,
      onset: from,
      length: asWholeNotes(subtract(to, from)),
      tonality,
      notes: heardBetween(placed, tonality, from, to),
      place,
      opensBar: i === 0 && placed.bar.role !== 'restOfBar',
    };
  });
};

/**
 * The tune as a row of cells that each may have a chord of its own, in written order; pick-ups are left out.
 */
export const cellsOf = (score: Score): readonly Cell[] => {
  const places = placesOf(score);
  return barsOf(score).flatMap((placed, i) => {
    const place = places[i] ?? null;
    if (place === null || compare(writtenLengthOf(placed.bar), ZERO) <= 0) return [];
    return cellsOfBar(placed, place, tonalityOf(placed.bar.key, score));
  });
};
