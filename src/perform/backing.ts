import {
  add,
  compare,
  equals,
  isLess,
  minOf,
  type Rational,
  type Seconds,
  subtract,
  ZERO,
} from '../core/index.ts';
import type { ChordPlan } from '../harmony/index.ts';
import { type Chord, type Dance, type Key, midiOf, pitchAtStaffStep, STEPS } from '../music/index.ts';
import type { Clock } from './clock.ts';
import type { LaidBar, Layout } from './layout.ts';
import { type BackingStroke, patternFor } from './patterns.ts';
import { playersOf } from './players.ts';
import type { Band } from './settings.ts';
import type { TimedNote } from './timeline.ts';

/** A chord and the score time from which it holds. */
export interface ChordFrom {
  readonly at: Rational;
  readonly chord: Chord;
}

/** A whole bar of the metre as played: a pick-up lies inside it. */
interface WholeBar {
  readonly bars: readonly LaidBar[];
  readonly start: Rational;
  readonly end: Rational;
  /** Something else than the next written bar comes after it: the end of a part. */
  readonly endsPart: boolean;
}

/** A stroke at a place in score time, with its chord. */
interface PlacedStroke {
  readonly stroke: BackingStroke;
  readonly whole: WholeBar;
  readonly at: Rational;
  readonly end: Rational;
  readonly chord: Chord;
  /** The chord begins here. */
  readonly fresh: boolean;
}

/** How long a stroke over the strings takes from one to the next: a share of the crotchet, within limits. Ours. */
const STRUM = { share: 0.03, shortest: 0.012, longest: 0.02 } as const;

const chordsOf = (layout: Layout, plan: ChordPlan): readonly ChordFrom[] => {
  const byBar = new Map<string, ChordPlan[number][]>();
  for (const planned of plan) {
    const key = `${planned.part}/${planned.bar}`;
    byBar.set(key, [...(byBar.get(key) ?? []), planned]);
  }
  return layout.bars.flatMap((bar) =>
    (byBar.get(`${bar.part}/${bar.index}`) ?? [])
      .filter((c) => bar.bar.role !== 'pickup' || c.source === 'written')
      .filter((c) => isLess(c.onset, bar.length))
      .map(({ onset, chord }) => ({ at: add(bar.start, onset), chord })),
  );
};

/** The laid bars gathered into bars of the metre; a pick-up before everything has no backing. */
const wholeBarsOf = (layout: Layout): readonly WholeBar[] => {
  const placeOf = new Map(layout.bars.map((bar, i) => [bar, i + 1] as const));
  const groups: LaidBar[][] = [];
  layout.bars.forEach((bar, i) => {
    const before = layout.bars[i - 1];
    if (before?.continues === true) groups.at(-1)?.push(bar);
    else groups.push([bar]);
  });
  return groups.flatMap((bars) => {
    const [first] = bars;
    const last = bars.at(-1);
    if (first === undefined || last === undefined || compare(first.offset, ZERO) > 0) return [];
    const next = layout.bars[placeOf.get(last) ?? -1];
    return [
      {
        bars,
        start: first.start,
        end: add(last.start, last.length),
        endsPart: next !== undefined && [...bars.slice(1), next].some((bar) => bar.jumped),
      },
    ];
  });
};

/** When a place in a whole bar sounds. */
const timeIn = (whole: WholeBar, at: Rational, clock: Clock): Seconds => {
  const bar = whole.bars.findLast((b) => compare(b.start, at) <= 0) ?? whole.bars[0];
  if (bar === undefined) return clock.timeOf(at);
  return clock.timeAt(bar, subtract(at, bar.start), 'backing');
};

const strokesIn = (
  whole: WholeBar,
  { dance, band }: { readonly dance: Dance; readonly band: Band },
  chords: readonly ChordFrom[],
): readonly PlacedStroke[] => {
  const metre = whole.bars[0]?.bar.metre;
  if (metre === undefined) return [];
  const { cycle, strokes, fill } = patternFor(dance, metre, band.pattern);
  const placed: PlacedStroke[] = [];
  for (let start = whole.start; isLess(start, whole.end); start = add(start, cycle)) {
    const last = whole.endsPart && equals(add(start, cycle), whole.end);
    for (const stroke of last ? fill : strokes) {
      const at = add(start, stroke.at);
      const holds = chords.findLast((c) => compare(c.at, at) <= 0);
      if (!isLess(at, whole.end) || holds === undefined) continue;
      const end = minOf(add(at, stroke.length), whole.end);
      placed.push({ stroke, whole, at, end, chord: holds.chord, fresh: equals(holds.at, at) });
    }
  }
  return placed;
};

/** Any octave will do. */
const SOME_OCTAVE_FROM = 28;
/** The seven notes of a key as chromas. */
const scaleOf = (key: Key): readonly number[] =>
  Array.from({ length: 7 }, (_, i) => {
    const letter = STEPS[(SOME_OCTAVE_FROM + i) % 7] ?? 'C';
    return midiOf(pitchAtStaffStep(SOME_OCTAVE_FROM + i, key.accidentals[letter])) % 12;
  });

/** What the backing plays into: the next tune of a set. */
export interface LeadOn {
  /** The next tune's bars, as far as its first full one. */
  readonly bars: readonly LaidBar[];
  /** The chord that turns the corner, and the score time from which it holds; null: the last one goes on. */
  readonly turn: ChordFrom | null;
  /** The next tune's first chord. */
  readonly chord: Chord | null;
}

/** What the backing is made from. */
interface BackingTask {
  readonly layout: Layout;
  readonly clock: Clock;
  readonly dance: Dance;
  readonly plan: ChordPlan;
  readonly band: Band;
  /** Absent: the tune ends here. */
  readonly leadOn?: LeadOn;
}

/** The chords up to the corner, the one that turns it, and the one behind it. */
const chordsInto = (chords: readonly ChordFrom[], { bars, turn, chord }: LeadOn): readonly ChordFrom[] => {
  const target = bars.at(-1)?.start;
  return [
    ...chords.filter(({ at }) => turn === null || isLess(at, turn.at)),
    ...(turn === null ? [] : [turn]),
    ...(target === undefined || chord === null ? [] : [{ at: target, chord }]),
  ];
};

/** The whole bars of a tune, the last one with what the next tune's pick-up takes of it. */
const wholeBarsInto = (layout: Layout, leadOn: LeadOn | undefined): readonly WholeBar[] => {
  if (leadOn === undefined) return wholeBarsOf(layout);
  const target = leadOn.bars.at(-1)?.start;
  const bars = [...layout.bars, ...leadOn.bars];
  return wholeBarsOf({ bars, closing: null }).filter(
    ({ start }) => target === undefined || isLess(start, target),
  );
};

/**
 * What the backing plays under the tune.
 *
 * Patterns of the dance over the plan's chords, in whole bars of the metre: the pick-up before the first bar is the
 * fiddle's own, later ones lie inside a bar that is backed. At the end of a part the bass leads into what follows, also
 * into the next tune. From the closing note on one chord is held.
 * @param until - when the closing chord ends
 * @returns notes in the order in which they were made, to be sorted by the caller
 * @see Common practice: patterns per dance, bass root and fifth in turns, small movements of the hands
 */
export const backingOf = (
  { layout, clock, dance, plan, band, leadOn }: BackingTask,
  until: Seconds,
): readonly TimedNote[] => {
  const own = chordsOf(layout, plan);
  const chords = leadOn === undefined ? own : chordsInto(own, leadOn);
  const wholes = wholeBarsInto(layout, leadOn);
  const players = playersOf(band.players);
  const closing = layout.closing?.start ?? null;
  const notes: TimedNote[] = [];
  const spreadAt = (at: Rational): number =>
    Math.min(STRUM.longest, Math.max(STRUM.shortest, (clock.secondsPerWholeAt(at) / 4) * STRUM.share));
  let next = 0;
  let holding: readonly ChordFrom[] = [];
  for (const whole of wholes) {
    const near = [...holding.slice(-1)];
    for (let c = chords[next]; c !== undefined && isLess(c.at, whole.end); c = chords[next]) {
      near.push(c);
      next += 1;
    }
    holding = near;
    const [first] = whole.bars;
    if (first === undefined) continue;
    const scale = scaleOf(first.bar.key);
    for (const { stroke, at, end: written, chord, fresh } of strokesIn(whole, { dance, band }, near)) {
      if (closing !== null && compare(at, closing) >= 0) continue;
      const end = closing === null ? written : minOf(written, closing);
      const time = [timeIn(whole, at, clock), timeIn(whole, end, clock)] as const;
      const after = chords[next]?.chord ?? chord;
      notes.push(...players.play({ stroke, chord, fresh, next: after, scale, time, spread: spreadAt(at) }));
    }
  }
  const last = wholes.at(-1);
  const chord = closing === null ? undefined : chords.findLast((c) => compare(c.at, closing) <= 0)?.chord;
  if (closing === null || last === undefined || chord === undefined) return notes;
  return [...notes, ...players.close(chord, [timeIn(last, closing, clock), until], spreadAt(closing))];
};
