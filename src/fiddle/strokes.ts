import { add, equals, type Rational } from '../core/index.ts';
import { isSamePitch } from '../music/index.ts';
import type { Bow, Part } from '../score/index.ts';
import { openingBow, other, type Spot, spotsOf } from './bowing.ts';
import { cheapestPath } from './cheapestPath.ts';

/** Whether two notes that follow each other had better be in one bow, and what it costs to have it otherwise. */
export interface Joint {
  /** What the slur costs; for a wanted one what its absence costs. */
  readonly cost: number;
  readonly wanted: boolean;
}

/** What may be done to the strokes of a part so that its bars open down, and what each costs. */
export interface StrokeCosts {
  /** The slur from this note to the next one; null: there must be none. */
  readonly joint: (from: Spot, to: Spot) => Joint | null;
  /** A full bar that opens up. */
  readonly opensUp: number;
  /** A down-bow taken again at the start of a bar; null: never. */
  readonly retake: number | null;
}

/** How the bow comes to a note: a new stroke, one set again, one that goes on by a new slur, or as written. */
export interface ChosenStroke {
  readonly spot: Spot;
  readonly bow: Bow;
  readonly how: 'stroke' | 'retaken' | 'joined' | 'goesOn';
}

interface Way {
  readonly bow: Bow;
  readonly how: ChosenStroke['how'];
}

const IMPOSSIBLE = 1e6;
const BOWS: readonly Bow[] = ['down', 'up'];

/** Whether the second note follows the first in one bar, and neither is tied, slurred or bowed as written. */
const couldJoin = (from: Spot, to: Spot): boolean => {
  const { note: a, address: at } = from;
  const { note: b, address: next } = to;
  const follows = at.bar === next.bar && equals(add(at.onset, a.length) as Rational, next.onset);
  const free = (spot: Spot): boolean => spot.note.slurs.opens === 0 && spot.note.slurs.closes === 0;
  return (
    follows &&
    from.begins &&
    to.begins &&
    free(from) &&
    free(to) &&
    b.bow === null &&
    !a.tiedToNext &&
    a.tuplet === null &&
    b.tuplet === null &&
    !isSamePitch(a.pitches[0], b.pitches[0])
  );
};

/** Whether the bow begins anew here whatever came before: a part, a repeat, an ending after the first. */
const beginsAnew = (spots: readonly Spot[], at: number): boolean => {
  const [spot, before] = [spots[at], spots[at - 1]];
  if (spot === undefined || before === undefined) return true;
  if (before.address.bar === spot.address.bar) return false;
  return spot.bar.repeatStart > 0 || (spot.bar.ending !== null && !spot.bar.ending.includes(1));
};

const opensFullBar = (spots: readonly Spot[], at: number): boolean => {
  const [spot, before] = [spots[at], spots[at - 1]];
  return (
    spot !== undefined &&
    spot.bar.role !== 'pickup' &&
    spot.address.onset.num === 0 &&
    before?.address.bar !== spot.address.bar
  );
};

const waysTo = (spots: readonly Spot[], at: number, costs: StrokeCosts): readonly Way[] => {
  const [spot, before] = [spots[at], spots[at - 1]];
  if (spot === undefined) return [];
  const strokes = BOWS.map((bow): Way => ({ bow, how: 'stroke' }));
  if (beginsAnew(spots, at)) return strokes.filter(({ bow }) => bow === openingBow(spots, at));
  if (!spot.begins) return BOWS.map((bow): Way => ({ bow, how: 'goesOn' }));
  const joins = before !== undefined && couldJoin(before, spot) && costs.joint(before, spot) !== null;
  const retakes = costs.retake !== null && spot.note.bow === null && opensFullBar(spots, at);
  return [
    ...strokes,
    ...(joins ? BOWS.map((bow): Way => ({ bow, how: 'joined' })) : []),
    ...(retakes ? [{ bow: 'down', how: 'retaken' } as const] : []),
  ];
};

/** Whether the bow can come to a note this way from the one before. */
const follows = (from: Way, to: Way, spot: Spot): boolean => {
  switch (to.how) {
    case 'goesOn':
      return to.bow === from.bow;
    case 'joined':
      return to.bow === from.bow && (from.how === 'stroke' || from.how === 'retaken');
    case 'retaken':
      return from.bow === 'down' && !spot.afterRest;
    case 'stroke':
      return to.bow === (spot.note.bow ?? (spot.afterRest ? 'down' : other(from.bow)));
    default:
      return to.how satisfies never;
  }
};

const costOf = (way: Way, spots: readonly Spot[], at: number, costs: StrokeCosts): number => {
  const [spot, before] = [spots[at], spots[at - 1]];
  if (spot === undefined) return 0;
  const joint = before !== undefined && couldJoin(before, spot) ? costs.joint(before, spot) : null;
  if (way.how === 'joined') return joint?.wanted === true ? 0 : (joint?.cost ?? IMPOSSIBLE);
  const missed = joint?.wanted === true ? joint.cost : 0;
  if (way.how === 'retaken') return (costs.retake ?? IMPOSSIBLE) + missed;
  const up = way.how === 'stroke' && way.bow === 'up' && spot.note.bow === null && opensFullBar(spots, at);
  return missed + (up ? costs.opensUp : 0);
};

/**
 * Which strokes suit a part best: slurs where they are wanted, bars that open down, as few changes as that takes?
 *
 * A shortest path over the direction of each note. What is written stays: slurs, ties, bows.
 * @returns every note of the part in order
 */
export const bestStrokes = (part: Part, beat: Rational, costs: StrokeCosts): readonly ChosenStroke[] => {
  const spots = spotsOf(part, beat);
  const path = cheapestPath<Way>({
    ways: spots.map((_, at) => waysTo(spots, at, costs)),
    own: (way, at) => costOf(way, spots, at, costs),
    move: (from, to, at) => {
      const spot = spots[at];
      return spot === undefined || beginsAnew(spots, at) || follows(from, to, spot) ? 0 : IMPOSSIBLE;
    },
  });
  return spots.flatMap((spot, at) => {
    const way = path[at];
    return way === undefined ? [] : [{ spot, ...way }];
  });
};
