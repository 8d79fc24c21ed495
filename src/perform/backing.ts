import {
  add,
  compare,
  equals,
  isLess,
  midiNumber,
  minOf,
  type Rational,
  type Seconds,
  seconds,
  subtract,
  ZERO,
} from '../core/index.ts';
import type { ChordPlan } from '../harmony/index.ts';
import { type Chord, type Dance, formatChord } from '../music/index.ts';
import type { Clock } from './clock.ts';
import type { LaidBar, Layout } from './layout.ts';
import { type BackingStroke, patternFor } from './patterns.ts';
import type { TimedNote } from './timeline.ts';
import { bassNote, guitarVoicing } from './voicing.ts';

/** A chord and the score time from which it holds. */
interface ChordFrom {
  readonly at: Rational;
  readonly chord: Chord;
}

/** A whole bar of the metre as played: a pick-up lies inside it. */
interface WholeBar {
  readonly bars: readonly LaidBar[];
  readonly start: Rational;
  readonly end: Rational;
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
/** Strings that an up-stroke touches. Common practice: the thin ones. */
const UP_STRINGS = 3;
/** Strings that a light down-stroke touches. Common practice. */
const DOWN_STRINGS = 4;
/** The guitar's bass string under the bass. Ours. */
const GUITAR_BASS_SHARE = 0.8;
const CLOSING_LEVEL = { bass: 0.58, guitar: 0.5 } as const;
/** Each string of a stroke a little softer than the one before. Ours. */
const STRING_FALL = 0.01;

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
    return [{ bars, start: first.start, end: add(last.start, last.length) }];
  });
};

/** When a place in a whole bar sounds. */
const timeIn = (whole: WholeBar, at: Rational, clock: Clock): Seconds => {
  const bar = whole.bars.findLast((b) => compare(b.start, at) <= 0) ?? whole.bars[0];
  if (bar === undefined) return clock.timeOf(at);
  return clock.timeAt(bar, subtract(at, bar.start), 'backing');
};

const strokesIn = (whole: WholeBar, dance: Dance, chords: readonly ChordFrom[]): readonly PlacedStroke[] => {
  const metre = whole.bars[0]?.bar.metre;
  if (metre === undefined) return [];
  const { cycle, strokes } = patternFor(dance, metre);
  const placed: PlacedStroke[] = [];
  for (let start = whole.start; isLess(start, whole.end); start = add(start, cycle)) {
    for (const stroke of strokes) {
      const at = add(start, stroke.at);
      const holds = chords.findLast((c) => compare(c.at, at) <= 0);
      if (!isLess(at, whole.end) || holds === undefined) continue;
      const end = minOf(add(at, stroke.length), whole.end);
      placed.push({ stroke, whole, at, end, chord: holds.chord, fresh: equals(holds.at, at) });
    }
  }
  return placed;
};

const pluck = (
  voice: 'guitar' | 'bass',
  midi: number,
  [start, end]: readonly [number, number],
  level: number,
): TimedNote => ({
  voice,
  start: seconds(start),
  length: seconds(Math.max(0.01, end - start)),
  midi: midiNumber(midi),
  level,
  attack: 'pluck',
});

/** A stroke over strings in the order in which it meets them, each a little later and softer. */
const strum = (
  strings: readonly number[],
  [start, end]: readonly [number, number],
  level: number,
  spread: number,
): readonly TimedNote[] =>
  strings.map((midi, i) =>
    pluck(
      'guitar',
      midi,
      [start + i * spread, Math.max(end, start + (i + 1) * spread)],
      level - i * STRING_FALL,
    ),
  );

/** A chord broken upwards, tone after tone, all ringing to the end; as many as there is time for. */
const broken = (
  strings: readonly number[],
  [start, end]: readonly [number, number],
  level: number,
): readonly TimedNote[] => {
  const step = (end - start) / (strings.length + 1);
  return strings.map((midi, i) => pluck('guitar', midi, [start + i * step, end], level));
};

/** What the players remember from stroke to stroke. */
interface Hands {
  voicing: readonly number[];
  chord: string;
  bassTurn: number;
  /** The guitar's last bass string and when it was plucked: a stroke at the same moment leaves it out. */
  low: { readonly midi: number; readonly start: number } | null;
}

/** Guitar grips found so far, by chord and the grip before. */
type Grips = Map<string, readonly number[]>;

const grip = (chord: Chord, hands: Hands, grips: Grips): void => {
  const name = formatChord(chord);
  if (name === hands.chord) return;
  const key = `${name} ${hands.voicing.join(',')}`;
  const voicing = grips.get(key) ?? guitarVoicing(chord, hands.voicing);
  grips.set(key, voicing);
  hands.voicing = voicing;
  hands.chord = name;
  hands.bassTurn = 0;
};

const bassNotes = (chord: Chord, hands: Hands, time: readonly [number, number], level: number) => {
  const turn = hands.bassTurn;
  hands.bassTurn += 1;
  const bass = bassNote(chord, turn);
  const low = hands.voicing.find((p) => p % 12 === bass % 12) ?? bass + 12;
  hands.low = { midi: low, start: time[0] };
  return [pluck('bass', bass, time, level), pluck('guitar', low, time, level * GUITAR_BASS_SHARE)];
};

const played = (
  placed: PlacedStroke,
  hands: Hands,
  time: readonly [number, number],
  spread: number,
): readonly TimedNote[] => {
  const { stroke, chord, fresh } = placed;
  const { kind, level } = stroke;
  const strings = hands.voicing;
  switch (kind) {
    case 'bass':
      return bassNotes(chord, hands, time, level);
    case 'down': {
      const bass = fresh && hands.bassTurn === 0 ? bassNotes(chord, hands, time, level) : [];
      const ringing = hands.low?.start === time[0] ? hands.low.midi : null;
      const free = strings.slice(-DOWN_STRINGS).filter((midi) => midi !== ringing);
      return [...bass, ...strum(free, time, level, spread)];
    }
    case 'up':
      return strum(strings.slice(-UP_STRINGS).toReversed(), time, level, spread);
    case 'broken':
      return broken(strings, time, level);
    default:
      return kind satisfies never;
  }
};

/**
 * What guitar and bass play under the tune.
 *
 * Patterns of the dance over the plan's chords, in whole bars of the metre: the pick-up before the first bar is the
 * fiddle's own, later ones lie inside a bar that is backed. From the closing note on one chord is held.
 * @param until - when the closing chord ends
 * @returns notes in the order in which they were made, to be sorted by the caller
 * @see Common practice: patterns per dance, bass root and fifth in turns, small movements of the guitar hand
 */
export const backingOf = (
  layout: Layout,
  clock: Clock,
  dance: Dance,
  plan: ChordPlan,
  until: Seconds,
): readonly TimedNote[] => {
  const chords = chordsOf(layout, plan);
  const wholes = wholeBarsOf(layout);
  const hands: Hands = { voicing: [], chord: '', bassTurn: 0, low: null };
  const grips: Grips = new Map();
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
    for (const placed of strokesIn(whole, dance, near)) {
      if (closing !== null && compare(placed.at, closing) >= 0) continue;
      grip(placed.chord, hands, grips);
      const end = closing === null ? placed.end : minOf(placed.end, closing);
      const time = [timeIn(whole, placed.at, clock), timeIn(whole, end, clock)] as const;
      notes.push(...played(placed, hands, time, spreadAt(placed.at)));
    }
  }
  const last = wholes.at(-1);
  const chord = closing === null ? undefined : chords.findLast((c) => compare(c.at, closing) <= 0)?.chord;
  if (closing === null || last === undefined || chord === undefined) return notes;
  grip(chord, hands, grips);
  const time = [timeIn(last, closing, clock), until] as const;
  return [
    ...notes,
    pluck('bass', bassNote(chord, 0), time, CLOSING_LEVEL.bass),
    ...strum(hands.voicing, time, CLOSING_LEVEL.guitar, spreadAt(closing)),
  ];
};
