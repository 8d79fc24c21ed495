import { add, compare, isMultipleOf, multiply, type Rational, rational, ZERO } from '../core/index.ts';
import { runningUnitOf } from '../fiddle/index.ts';
import { type Dance, isCompound, type Metre, notatedBeatOf } from '../music/index.ts';
import { LEVELS } from './data.ts';
import type { LaidBar } from './layout.ts';

/** The beat that is counted in a metre: the dance's where it divides the bar, else the metre's own. */
export const beatIn = (metre: Metre, dance: Dance): Rational => {
  if (metre.kind === 'free') return dance.beat;
  const full = rational(metre.count, metre.unit);
  const fits = isMultipleOf(full, dance.beat) && isCompound(metre) === (dance.beat.num === 3);
  return fits ? dance.beat : notatedBeatOf(metre);
};

/**
 * How loud is a note by its place in the metre: the first beat most, then beats, off-beats, what lies between?
 * @param onset - from the start of its bar
 */
export const levelAt = (bar: LaidBar, onset: Rational, dance: Dance): number => {
  const position = add(bar.offset, onset);
  const { metre } = bar.bar;
  if (compare(position, ZERO) === 0) return LEVELS.firstBeat;
  if (isMultipleOf(position, beatIn(metre, dance))) return LEVELS.beat;
  const running = runningUnitOf(dance, metre);
  if (isCompound(metre)) return isMultipleOf(position, running) ? LEVELS.between + 0.02 : LEVELS.between;
  return isMultipleOf(position, multiply(running, rational(2))) ? LEVELS.offBeat : LEVELS.between;
};

/** A level kept within what the fiddle plays. */
export const withinLevels = (level: number): number =>
  Math.max(LEVELS.softest, Math.min(LEVELS.loudest, level));
