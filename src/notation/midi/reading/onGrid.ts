import { add, compare, type Rational, rational } from '../../../core/index.ts';
import type { HeldKey } from './melodyOf.ts';

/** A note of the melody on the grid, in crotchets from the beginning. */
export interface GridNote {
  readonly onset: Rational;
  /** The melody's key, and one that sounds with it. */
  readonly keys: readonly number[];
  /** Keys of grace notes before it. */
  readonly graces: readonly number[];
  /** Where its key is let go, in crotchets, not on the grid. */
  readonly released: number;
}

/** A key that is down for less than this part of a crotchet, with the next right behind it, is a grace note. Ours: no dance runs in demisemiquavers. */
const GRACE = 1 / 6.5;
/** Keys that go down within this part of a crotchet go down together. Ours. */
const TOGETHER = 1 / 24;
/** Semiquavers, and the quavers of a triplet, to the crotchet. */
const STRAIGHT = 4;
const THIRDS = 3;
/** A crotchet is read in thirds only where these fit so much better. Ours. */
const THIRDS_BONUS = 0.6;
/** Off-beats between these parts of a crotchet count as swung. Ours: from just over even to 2 : 1 and a little more. */
const SWUNG = { from: 0.53, to: 0.7, share: 0.7 } as const;

interface Stroke {
  readonly at: number;
  readonly until: number;
  readonly keys: readonly number[];
  readonly graces: readonly number[];
}

/** Keys that go down together as one stroke, the highest first; then short ones given to the stroke they lead into. */
const strokesOf = (held: readonly HeldKey[], crotchet: number): readonly Stroke[] => {
  const together: { at: number; until: number; keys: number[] }[] = [];
  for (const { start, end, key } of held) {
    const last = together.at(-1);
    if (last !== undefined && start / crotchet - last.at < TOGETHER) {
      last.keys.push(key);
      last.until = Math.max(last.until, end / crotchet);
    } else together.push({ at: start / crotchet, until: end / crotchet, keys: [key] });
  }
  const strokes: Stroke[] = [];
  let waiting: { at: number; keys: number[] } | null = null;
  together.forEach(({ at, until, keys }, i) => {
    const next = together[i + 1];
    const top = keys.toSorted((a, b) => b - a);
    const leadsOn = next !== undefined && next.at - at < GRACE && keys.length === 1;
    if (leadsOn) {
      waiting = { at: waiting?.at ?? at, keys: [...(waiting?.keys ?? []), ...top] };
      return;
    }
    strokes.push({ at: waiting?.at ?? at, until, keys: top.slice(0, 2), graces: waiting?.keys ?? [] });
    waiting = null;
  });
  return strokes;
};

/** Where the off-beat quavers lie when most of them lie late; null where they are even. */
const swingOf = (strokes: readonly Stroke[]): number | null => {
  const late = strokes.map(({ at }) => at - Math.floor(at)).filter((f) => f > 0.4 && f < SWUNG.to);
  const middle = late.toSorted((a, b) => a - b)[Math.floor(late.length / 2)] ?? 0.5;
  const thirds = strokes.filter(({ at }) => Math.abs(at - Math.floor(at) - 1 / THIRDS) < 1 / 24).length;
  const swung = late.filter((f) => f >= SWUNG.from).length;
  return late.length > 4 &&
    swung >= SWUNG.share * late.length &&
    middle >= SWUNG.from &&
    thirds < late.length / 4
    ? middle
    : null;
};

const unswung = (at: number, off: number): number => {
  const beat = Math.floor(at);
  const f = at - beat;
  return beat + (f < off ? (f / off) * 0.5 : 0.5 + ((f - off) / (1 - off)) * 0.5);
};

/** Two short strokes before a third on the same key are no grace notes but a treble, written as a triplet. */
const isTreble = (keys: readonly number[], graces: readonly number[]): boolean =>
  graces.length === 2 && graces.every((key) => key === keys[0]);

const misfit = (times: readonly number[], parts: number): number =>
  times.reduce((total, t) => total + Math.abs(t * parts - Math.round(t * parts)) / parts, 0);

/**
 * The strokes of a voice on a grid of semiquavers, or of triplet quavers in crotchets that these fit better.
 *
 * Swing is taken out first: the pair is written even.
 */
export const onGrid = (
  held: readonly HeldKey[],
  crotchet: number,
): { readonly notes: readonly GridNote[]; readonly swung: boolean } => {
  const strokes = strokesOf(held, crotchet);
  const off = swingOf(strokes);
  const timed = strokes.map((s) => ({ ...s, at: off === null ? s.at : unswung(s.at, off) }));
  const beats = new Map<number, number[]>();
  for (const { at } of timed) {
    const beat = Math.floor(at + 1 / (2 * STRAIGHT));
    beats.set(beat, [...(beats.get(beat) ?? []), at - beat]);
  }
  const partsIn = (beat: number): number => {
    const times = beats.get(beat) ?? [];
    const inThirds = times.length > 1 && misfit(times, THIRDS) < THIRDS_BONUS * misfit(times, STRAIGHT);
    return inThirds ? THIRDS : STRAIGHT;
  };
  const notes: GridNote[] = [];
  const put = (note: GridNote): void => {
    const last = notes.at(-1);
    if (last === undefined || compare(note.onset, last.onset) > 0) notes.push(note);
  };
  for (const { at, until, keys, graces } of timed) {
    const beat = Math.floor(at + 1 / (2 * STRAIGHT));
    const parts = partsIn(beat);
    const onset = rational(beat * parts + Math.round((at - beat) * parts), parts);
    if (isTreble(keys, graces))
      for (let i = 0; i < THIRDS; i += 1)
        put({ onset: add(onset, rational(i, THIRDS)), keys, graces: [], released: until });
    else put({ onset, keys, graces, released: until });
  }
  return { notes, swung: off !== null };
};
