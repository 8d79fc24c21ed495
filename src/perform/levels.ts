import {
  add,
  compare,
  equals,
  isMultipleOf,
  multiply,
  type Rational,
  rational,
  ZERO,
} from '../core/index.ts';
import { runningUnitOf } from '../fiddle/index.ts';
import { type Dance, isCompound, type Metre, notatedBeatOf } from '../music/index.ts';
import { ACCENTS, LEVELS, type Weight } from './data.ts';
import type { LaidBar } from './layout.ts';

/** The beat that is counted in a metre: the dance's where it divides the bar, else the metre's own. */
export const beatIn = (metre: Metre, dance: Dance): Rational => {
  if (metre.kind === 'free') return dance.beat;
  const full = rational(metre.count, metre.unit);
  const fits = isMultipleOf(full, dance.beat) && isCompound(metre) === (dance.beat.num === 3);
  return fits ? dance.beat : notatedBeatOf(metre);
};

/** Where a place in a bar stands in its metre. */
const weightAt = (position: Rational, metre: Metre, dance: Dance): Weight => {
  if (compare(position, ZERO) === 0) return 'firstBeat';
  const beat = beatIn(metre, dance);
  if (isMultipleOf(position, beat)) return equals(position, beat) ? 'secondBeat' : 'beat';
  const running = runningUnitOf(dance, metre);
  const offBeat = isCompound(metre) ? running : multiply(running, rational(2));
  return isMultipleOf(position, offBeat) ? 'offBeat' : 'between';
};

/**
 * How loud is a note by its place in the metre and what its dance leans on: the first beat most, then beats, off-beats,
 * what lies between?
 * @param onset - from the start of its bar
 */
export const levelAt = (bar: LaidBar, onset: Rational, dance: Dance): number => {
  const { metre } = bar.bar;
  const weight = weightAt(add(bar.offset, onset), metre, dance);
  const step = ACCENTS[dance.id]?.[weight] ?? 0;
  // Inside a compound beat nothing is as strong as the off-beat of a simple one.
  if (isCompound(metre) && weight === 'offBeat') return LEVELS.between + COMPOUND_LIFT + step;
  return LEVELS[weight === 'secondBeat' ? 'beat' : weight] + step;
};

/** What the running notes inside a jig's beat have over what lies between them. Ours. */
const COMPOUND_LIFT = 0.02;

/** A level kept within what the fiddle plays. */
export const withinLevels = (level: number): number =>
  Math.max(LEVELS.softest, Math.min(LEVELS.loudest, level));
