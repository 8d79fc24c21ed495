import type { Score } from '../../score/index.ts';
import { SITE_RULES } from './kinds.ts';
import { type OrnamentSite, SITE_KINDS } from './ornamentSite.ts';
import { isFree, type Spot, spotsOf } from './spot.ts';

const GROUP = 3;

/** The notes from one on that follow each other in its bar. */
const groupFrom = (spots: readonly Spot[], at: number): readonly Spot[] => {
  const first = spots[at];
  const group = spots.slice(at, at + GROUP);
  const apart = group.findIndex((s, i) => s.bar !== first?.bar || s.index !== first.index + i);
  return apart < 0 ? group : group.slice(0, apart);
};

/**
 * Which ornaments are possible on which notes of a plain tune, for hand and bow?
 *
 * Possible is not yet asked for: what a player would choose among these is told by the suggestions of the versions room.
 * Cuts and rolls want an accent or, a cut, an equal note before; a roll a stopped note and its time; a treble a stroke of
 * its own; what takes the place of several notes must leave the bow as it found it.
 * @param plain - a tune without ornaments; notes that have one already are passed over
 * @returns in written order, several on one note in the order of `SITE_KINDS`
 * @see Common practice: no strike or roll on an open string, no cut above the fourth finger
 */
export const ornamentSitesOf = (plain: Score): readonly OrnamentSite[] => {
  const spots = spotsOf(plain);
  return spots.flatMap((spot, at) => {
    if (!isFree(spot)) return [];
    const group = groupFrom(spots, at);
    return SITE_KINDS.flatMap((kind) => SITE_RULES[kind](spot, group) ?? []);
  });
};
