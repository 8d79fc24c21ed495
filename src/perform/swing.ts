import {
  add,
  compare,
  divide,
  equals,
  floorOf,
  isMultipleOf,
  multiply,
  type Rational,
  rational,
  subtract,
  toNumber,
  ZERO,
} from '../core/index.ts';
import { runningUnitOf } from '../fiddle/index.ts';
import { type Dance, isCompound } from '../music/index.ts';
import { JIG_DANCES, JIG_SHARES, SHORTEST_SWUNG, STRONGEST_SWING } from './data.ts';
import type { LaidBar } from './layout.ts';

/**
 * How strongly does a dance swing at a tempo: long : short of an even-written pair of running notes?
 *
 * What the dance has above 1 falls with the root of the tempo: ratio = 1 + (dance's − 1) × √(steady ÷ tempo), so that
 * hornpipes stay within the counted 1.35–1.55 at 136–161 crotchets a minute; at slow tempi it rises by 30 % at most.
 * The short note is not pushed under 100 ms.
 * @param beatsPerMinute - in the dance's beat
 * @see Source: falls with tempo, short note about 100 ms: Friberg and Sundström, Music Perception 19(3), 2002; hornpipes:
 * Beauguitte, Duggan, Kelleher (ISMIR 2016), counted. The law itself: ours, tuned on these
 */
export const swingOf = (dance: Dance, beatsPerMinute: number): number => {
  if (dance.swing <= 1) return dance.swing;
  const factor = Math.min(STRONGEST_SWING, Math.sqrt(dance.tempo.steady / beatsPerMinute));
  const ratio = 1 + (dance.swing - 1) * factor;
  const running = runningUnitOf(dance, { kind: 'free' });
  const pair = (2 * 60 * toNumber(divide(running, dance.beat))) / beatsPerMinute;
  const short = Math.min(SHORTEST_SWUNG, pair / 2);
  return Math.min(ratio, pair / short - 1);
};

/** How a stretch of score time is bent: knots from 0 to 1, straight between. */
type Bend = readonly (readonly [written: number, played: number])[];

const bent = (bend: Bend, x: number): number => {
  for (let i = 1; i < bend.length; i += 1) {
    const [x1, y1] = bend[i] ?? [1, 1];
    const [x0, y0] = bend[i - 1] ?? [0, 0];
    if (x <= x1) return y0 + ((x - x0) / (x1 - x0)) * (y1 - y0);
  }
  return x;
};

/** Cells of one bend each: pairs of running notes, or a jig's beats. */
interface Cells {
  readonly size: Rational;
  readonly bendOf: (cell: number) => Bend | null;
}

const swung = (long: number): Bend => [
  [0, 0],
  [0.5, long],
  [1, 1],
];
/** A written dotted pair takes the ratio of an even one. */
const dottedSwung = (long: number): Bend => [
  [0, 0],
  [0.75, long],
  [1, 1],
];
const JIG: Bend = [
  [0, 0],
  [1 / 3, JIG_SHARES[0]],
  [2 / 3, JIG_SHARES[0] + JIG_SHARES[1]],
  [1, 1],
];

const QUARTER = rational(1, 4);
const THREE_QUARTERS = rational(3, 4);

/** Where in each pair the bar's events begin, as shares of the pair. */
const onsetsByPair = (bar: LaidBar, pair: Rational): ReadonlyMap<number, readonly Rational[]> => {
  const byPair = new Map<number, Rational[]>();
  for (const { onset } of bar.events) {
    const at = divide(add(bar.offset, onset), pair);
    const cell = floorOf(at);
    const list = byPair.get(cell) ?? [];
    list.push(subtract(at, rational(cell)));
    byPair.set(cell, list);
  }
  return byPair;
};

/** A pair with nothing in it but a note after three quarters (dotted) or after one (snap). */
const shapeOfPair = (onsets: readonly Rational[]): 'dotted' | 'snap' | 'other' => {
  const inside = onsets.filter((x) => compare(x, ZERO) > 0);
  const [only] = inside;
  if (inside.length !== 1 || only === undefined || inside.length === onsets.length) return 'other';
  if (equals(only, THREE_QUARTERS)) return 'dotted';
  return equals(only, QUARTER) ? 'snap' : 'other';
};

/** What bends the time of a dance's bars. */
export interface Feel {
  readonly dance: Dance;
  /** Long : short of a pair. */
  readonly swing: number;
}

const cellsOf = (bar: LaidBar, feel: Feel, who: 'melody' | 'backing'): Cells | null => {
  const { metre } = bar.bar;
  if (metre.kind === 'free') return null;
  const running = runningUnitOf(feel.dance, metre);
  if (isCompound(metre)) {
    if (!JIG_DANCES.includes(feel.dance.id)) return null;
    return { size: rational(3, metre.unit), bendOf: () => JIG };
  }
  if (feel.swing === 1) return null;
  const size = multiply(running, rational(2));
  const long = feel.swing / (1 + feel.swing);
  const even = swung(long);
  if (who === 'backing') return { size, bendOf: () => even };
  const onsets = onsetsByPair(bar, size);
  return {
    size,
    bendOf: (cell) => {
      const shape = shapeOfPair(onsets.get(cell) ?? []);
      if (shape === 'other') return even;
      return shape === 'dotted' && feel.dance.dottedPairsSwing ? dottedSwung(long) : null;
    },
  };
};

/**
 * Where do the places of a bar lie when it is played with its dance's feel?
 *
 * Pairs keep their length and beats their place: only what lies inside a pair (or inside a jig's beat) moves, in order.
 * Written dotted pairs and snaps are played as written, but in dances where dotted and even are one playing.
 * @returns from score time since the bar's start to score time since the start of its bar of the metre
 */
export const feelOfBar = (
  bar: LaidBar,
  feel: Feel,
  who: 'melody' | 'backing',
): ((onset: Rational) => number) => {
  const cells = cellsOf(bar, feel, who);
  const plain = (onset: Rational): number => toNumber(add(bar.offset, onset));
  if (cells === null) return plain;
  const own = add(bar.offset, bar.length);
  const limit = bar.continues && bar.full !== null ? bar.full : own;
  return (onset) => {
    const at = divide(add(bar.offset, onset), cells.size);
    const cell = floorOf(at);
    const end = multiply(rational(cell + 1), cells.size);
    const bend = isMultipleOf(at, rational(1)) || compare(end, limit) > 0 ? null : cells.bendOf(cell);
    if (bend === null) return plain(onset);
    return (cell + bent(bend, toNumber(subtract(at, rational(cell))))) * toNumber(cells.size);
  };
};
