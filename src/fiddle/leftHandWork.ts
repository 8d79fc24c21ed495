import type { Bar, Note } from '../score/index.ts';
import { cheapestPath } from './cheapestPath.ts';
import { WORK } from './difficultyData.ts';
import type { Grip, GripsFor } from './grips.ts';
import type { Hold } from './holds.ts';

/** What one bar asks of the left hand, in struck notes' worth. */
export interface LeftHandWork {
  readonly notes: number;
  readonly crossings: number;
  /** Fourth fingers, stretches, higher positions. */
  readonly fingers: number;
  /** One finger for two places in a row. */
  readonly awkward: number;
}

/** Semitones of a fourth finger in its own place, of a third finger's stretch, and of a high second finger. */
const FOURTH_PLACE = 7;
const THIRD_STRETCHED = 6;
const HIGH_SECOND = 4;

const fingerWork = ({ finger, semitones, position }: Hold): number => {
  if (position > 1) return WORK.aboveFirstPosition + (finger === 4 ? WORK.fourthFinger : 0);
  if (finger === 4) return WORK.fourthFinger + (semitones === FOURTH_PLACE ? 0 : WORK.outOfFrame);
  if (finger !== 3) return 0;
  if (semitones === HIGH_SECOND) return WORK.thirdForSecond;
  return semitones === THIRD_STRETCHED ? WORK.outOfFrame : 0;
};

const crossingWork = (from: Hold, to: Hold): number => WORK.crossing * Math.abs(from.place - to.place);

const awkwardWork = (from: Hold, to: Hold): number => {
  if (from.finger === 0 || from.finger !== to.finger || from.position !== to.position) return 0;
  return Math.abs(from.place - to.place) <= 1 && from.semitones !== to.semitones ? WORK.awkward : 0;
};

/** The bar's struck notes: the second of two tied ones is none. */
export const struckIn = (bar: Bar, carriedIn: boolean): readonly Note[] => {
  let tied = carriedIn;
  return bar.events.flatMap((event): Note[] => {
    const goesOn = tied;
    tied = event.kind === 'note' && event.tiedToNext;
    return event.kind === 'note' && !goesOn ? [event] : [];
  });
};

/**
 * How much work are these notes for the left hand, by the easiest fingering that they have by themselves?
 *
 * The easiest one and each bar for itself: so notes that are left out never make it more, whatever fingering the whole
 * tune takes. (Strings are crossed by distance, and an awkward place weighs less than the note that stood in between.)
 */
export const leftHandWork = (notes: readonly Note[], gripsFor: GripsFor): LeftHandWork => {
  const ways = notes.map(gripsFor).filter((grips) => grips.length > 0);
  const path: readonly Grip[] = cheapestPath({
    ways,
    own: (grip) => fingerWork(grip.melody),
    move: (from, to) => crossingWork(from.melody, to.melody) + awkwardWork(from.melody, to.melody),
  });
  const sumOver = (work: (hold: Hold, next: Hold | undefined) => number): number =>
    path.reduce((sum, grip, i) => sum + work(grip.melody, path[i + 1]?.melody), 0);
  return {
    notes: notes.length * WORK.note,
    crossings: sumOver((hold, next) => (next === undefined ? 0 : crossingWork(hold, next))),
    fingers: sumOver(fingerWork),
    awkward: sumOver((hold, next) => (next === undefined ? 0 : awkwardWork(hold, next))),
  };
};
