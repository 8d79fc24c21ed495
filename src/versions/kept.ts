import { equals, formatRational, parseWholeNotes, rational, type WholeNotes } from '../core/index.ts';
import { isSamePitch } from '../music/index.ts';
import {
  type Bar,
  barsOf,
  type Event,
  metricalOffsetOf,
  type PlacedBar,
  placedEvents,
  type Score,
  writtenLengthOf,
} from '../score/index.ts';
import { withBeams } from './beams.ts';
import { fitOf } from './fit.ts';
import type { Dissonance } from './fitTypes.ts';
import { lineOf } from './line.ts';
import { FORM_MARKS } from './thin.ts';
import { goesStraightOn, withTrueTies } from './ties.ts';

/** A bar that takes the place of a derived one. */
export interface BarToKeep {
  readonly part: string;
  /** Index among the part's written bars. */
  readonly bar: number;
  readonly events: readonly Event[];
}

/**
 * How a kept bar goes with the plain bar that it stands for.
 *
 * One of another length can't be in force; one that clashes or strikes notes of its own is, and says so.
 */
export type KeptVerdict =
  | { readonly kind: 'noBar' }
  | { readonly kind: 'wrongLength'; readonly kept: WholeNotes; readonly plain: WholeNotes }
  | {
      readonly kind: 'inForce';
      /** Where it clashes with the plain version on a pulse. */
      readonly clashes: readonly Dissonance[];
      /** Where it strikes a note and the plain version does not. */
      readonly newOnsets: readonly WholeNotes[];
    };

const keyOf = (at: { readonly part: string; readonly bar: number }): string => `${at.part}/${at.bar}`;

/** Signs of the tune's form and syllables go with the place in the bar, whatever note is there now. */
const withFormOf = (derived: Bar, events: readonly Event[]): readonly Event[] => {
  const wanted = placedEvents(derived);
  const onsets = placedEvents({ ...derived, events }).map(({ onset }) => onset);
  return events.map((event, i) => {
    const there = wanted.find(({ onset }) => equals(onset, onsets[i] ?? onset))?.event;
    if (there === undefined || event.kind === 'rest') return event;
    const marks = there.marks.filter((mark) => FORM_MARKS.has(mark) && !event.marks.includes(mark));
    const lyric = there.kind === 'note' ? there.lyric : null;
    return { ...event, marks: [...event.marks, ...marks], lyric: event.lyric ?? lyric };
  });
};

/** The last note tied to the next bar where the derived one was, and the same pitch goes on there. */
const tiedAsBefore = (events: readonly Event[], derived: Bar, next: Event | undefined): readonly Event[] => {
  const [last, was] = [events.at(-1), derived.events.at(-1)];
  if (last?.kind !== 'note' || was?.kind !== 'note' || next?.kind !== 'note' || !was.tiedToNext)
    return events;
  if (!isSamePitch(last.pitches[0], next.pitches[0])) return events;
  return [...events.slice(0, -1), { ...last, tiedToNext: true }];
};

const replaced = (derived: Bar, events: readonly Event[]): Bar => {
  const formed = withFormOf(derived, events);
  const offset = metricalOffsetOf({ ...derived, events: formed });
  return { ...derived, events: withBeams(formed, derived.metre, { offset, beamOf: () => null }) };
};

/** All bars with the kept ones in their places, joined to their neighbours. */
const inPlace = (
  derived: readonly PlacedBar[],
  kept: ReadonlyMap<string, readonly Event[]>,
): readonly Bar[] => {
  const eventsAt = (i: number): readonly Event[] => {
    const placed = derived[i];
    if (placed === undefined) return [];
    return kept.get(keyOf({ part: placed.part, bar: placed.index })) ?? placed.bar.events;
  };
  return derived.map((placed, i) => {
    const own = kept.get(keyOf({ part: placed.part, bar: placed.index }));
    if (own === undefined) return placed.bar;
    const next = derived[i + 1];
    const goesOn = next !== undefined && goesStraightOn({ ...placed, number: i }, { ...next, number: i + 1 });
    return replaced(placed.bar, goesOn ? tiedAsBefore(own, placed.bar, eventsAt(i + 1)[0]) : own);
  });
};

/** Onsets of struck notes, bar by bar, by part and index. */
const onsetsOf = (score: Score): ReadonlyMap<string, ReadonlySet<string>> => {
  const { ticks, bars } = lineOf(score);
  return new Map(
    bars.map(({ part, index, notes }) => [
      keyOf({ part, bar: index }),
      new Set(notes.map(({ at }) => formatRational(rational(at, ticks)))),
    ]),
  );
};

/**
 * Bones with the bars that a person has kept, and how each of these goes with the plain version.
 *
 * Only the named bars change, and ties into and out of them where they would lead nowhere. Of two for one bar the
 * first counts.
 * @param bones - a derived version
 * @param plain - the version that it was derived from
 * @param kept - bars by place
 * @returns the version, and a verdict for each kept bar in their order
 */
export const withKeptBars = (
  bones: Score,
  plain: Score,
  kept: readonly BarToKeep[],
): { readonly score: Score; readonly verdicts: readonly KeptVerdict[] } => {
  const plainBars = new Map(barsOf(plain).map(({ bar, part, index }) => [keyOf({ part, bar: index }), bar]));
  const stated = kept.map((one): KeptVerdict => {
    const bar = plainBars.get(keyOf(one));
    if (bar === undefined) return { kind: 'noBar' };
    const [own, length] = [writtenLengthOf({ ...bar, events: one.events }), writtenLengthOf(bar)];
    if (!equals(own, length)) return { kind: 'wrongLength', kept: own, plain: length };
    return { kind: 'inForce', clashes: [], newOnsets: [] };
  });
  const standing = kept.filter((_, i) => stated[i]?.kind === 'inForce');
  if (standing.length === 0) return { score: bones, verdicts: stated };
  const bars = inPlace(barsOf(bones), new Map(standing.toReversed().map((one) => [keyOf(one), one.events])));
  let at = 0;
  const parts = bones.parts.map((part) => {
    const own = bars.slice(at, at + part.bars.length);
    at += part.bars.length;
    return { ...part, bars: own };
  });
  const score = withTrueTies({ ...bones, parts });
  const clashes = fitOf(score, plain).dissonances.filter((d) => d.strength === 'clash');
  const [struck, known] = [onsetsOf(score), onsetsOf(plain)];
  const verdicts = kept.map((one, i): KeptVerdict => {
    const verdict = stated[i] ?? { kind: 'noBar' };
    if (verdict.kind !== 'inForce') return verdict;
    const key = keyOf(one);
    const own = [...(struck.get(key) ?? [])].filter((onset) => known.get(key)?.has(onset) !== true);
    return {
      kind: 'inForce',
      clashes: clashes.filter((d) => keyOf(d) === key),
      newOnsets: own.map(parseWholeNotes),
    };
  });
  return { score, verdicts };
};
