import { danceOfScore } from '../fiddle/index.ts';
import type { DanceId } from '../music/index.ts';
import type { Score } from '../score/index.ts';
import type { Kept } from './board.ts';
import { chooseKept } from './choose.ts';
import { type Grid, gridsOf, type TwoFour } from './grid.ts';
import { type Line, type LineBar, lineOf } from './line.ts';
import { DENSITIES, type Density } from './settings.ts';
import { thinned } from './thin.ts';
import { chordTonesOf } from './tones.ts';
import { type WeighedBar, weigh } from './weigh.ts';

/** Dances whose snaps and written dots are their character. Common practice. */
const SNAPPED: ReadonlySet<DanceId> = new Set(['strathspey']);

/** How the bones are made. */
export interface BonesSettings {
  readonly density: Density;
}

/** A plain version made ready for choosing: its line, grids and weighed notes, and what the dance asks for. */
export interface Prepared {
  readonly line: Line;
  /** Grids of the books, by which lengths are written. */
  readonly gridFor: (bar: LineBar) => Grid;
  /** Every note weighed, 2/4 counted as asked. */
  readonly weighed: (twoFour: TwoFour) => readonly WeighedBar[];
  readonly aims: { readonly dance: DanceId; readonly snapped: boolean };
}

/** Makes a plain version ready. */
export const prepare = (plain: Score): Prepared => {
  const line = lineOf(plain);
  const dance = danceOfScore(plain).id;
  const aims = { dance, snapped: SNAPPED.has(dance) };
  const tonesIn = chordTonesOf(plain, line.ticks);
  const weighed = (twoFour: TwoFour): readonly WeighedBar[] =>
    weigh(line, gridsOf(plain, line.ticks, twoFour), { tonesIn, snapped: aims.snapped });
  return { line, gridFor: gridsOf(plain, line.ticks, 'byBooks'), weighed, aims };
};

/** How 2/4 is counted for bones of that density. */
export const countedFor = (density: Density): TwoFour =>
  DENSITIES.indexOf(density) < DENSITIES.indexOf('usual') ? 'asItRuns' : 'byBooks';

/**
 * The bones of a plain version: accented notes and shape, for newcomers, to be played along with it.
 *
 * Every onset is one of the plain version's, with its pitch; notes are held until the next kept one. The usual
 * density is chosen first; a fuller one adds notes to it, a sparser one takes notes from it.
 * @param plain - a score without ornaments, as `plainOf` makes it
 */
export const bonesOf = (plain: Score, settings: BonesSettings = { density: 'usual' }): Score => {
  const { line, gridFor, weighed, aims } = prepare(plain);
  const bars = weighed('byBooks');
  const usual = DENSITIES.indexOf('usual');
  const wanted = DENSITIES.indexOf(settings.density);
  const own = countedFor(settings.density) === 'byBooks' ? bars : weighed(countedFor(settings.density));
  let kept: Kept = chooseKept(bars, { ...aims, density: 'usual' });
  for (let step = usual; step !== wanted; ) {
    step += Math.sign(wanted - usual);
    const density = DENSITIES[step] ?? 'usual';
    const bound = wanted > usual ? { atLeast: kept } : { atMost: kept };
    kept = chooseKept(own, { ...aims, density, ...bound });
  }
  return thinned(plain, line, { kept, groupOf: (bar) => gridFor(bar).group });
};
