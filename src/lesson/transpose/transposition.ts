import {
  type Interval,
  midiOf,
  OPEN_STRINGS,
  type Pitch,
  type PitchClass,
  pitch,
  upTo,
} from '../../music/index.ts';
import { barsOf, notesOf, type Score } from '../../score/index.ts';
import { joined, listOfBars, type Words } from '../words.ts';

/** Where a tune is to go: up or down to the next such key; `near`: where it lies best under the hand. */
export type Direction = 'up' | 'down' | 'near';

const OCTAVE: Interval = { steps: 7, semitones: 12 };
const LOWEST = OPEN_STRINGS[0];
/** The fourth finger on the E string. Common practice: the top of first position. */
const FIRST_POSITION_TOP = pitch('B5');

const below = ({ steps, semitones }: Interval): Interval => ({
  steps: steps - OCTAVE.steps,
  semitones: semitones - OCTAVE.semitones,
});

const heightsOf = (score: Score): readonly number[] =>
  notesOf(score).flatMap(({ note }) => note.pitches.map((p) => midiOf(p)));

/** How many notes would lie off the fiddle, or above first position. */
const outside = (heights: readonly number[], { semitones }: Interval): number =>
  heights.filter((h) => h + semitones < midiOf(LOWEST) || h + semitones > midiOf(FIRST_POSITION_TOP)).length;

/**
 * By what interval does a tune move to another keynote?
 *
 * `near` takes the way, up or down, that leaves fewest notes off the fiddle or above first position, and of two such the
 * shorter. To its own keynote a tune moves by an octave.
 * @returns null when the tune has no keynote, or is there already and `near` is asked
 */
export const transpositionTo = (score: Score, to: PitchClass, direction: Direction): Interval | null => {
  const { tonic } = score.key;
  if (tonic === null) return null;
  const nearest = upTo(tonic, to);
  if (nearest.steps === 0 && nearest.semitones === 0) {
    if (direction === 'near') return null;
    return direction === 'up' ? OCTAVE : below({ steps: 0, semitones: 0 });
  }
  const up = nearest;
  const down = below(nearest);
  if (direction !== 'near') return direction === 'up' ? up : down;
  const heights = heightsOf(score);
  const [upOut, downOut] = [outside(heights, up), outside(heights, down)];
  if (upOut !== downOut) return upOut < downOut ? up : down;
  return Math.abs(up.semitones) <= Math.abs(down.semitones) ? up : down;
};

/** Bars that are named before it is "and others". Ours. */
const MOST_NAMED = 6;

const placesOf = (
  score: Score,
  isOut: (p: Pitch) => boolean,
  words: Words,
): { readonly count: number; readonly where: string } => {
  const found = barsOf(score).flatMap(({ bar, part }) => {
    const count = bar.events.reduce(
      (sum, event) => sum + (event.kind === 'note' ? event.pitches.filter(isOut).length : 0),
      0,
    );
    return count === 0 ? [] : [{ count, name: bar.number === null ? null : `${bar.number}`, part }];
  });
  const names = found.flatMap(({ name }) => (name === null ? [] : [name]));
  const shown = names.length > MOST_NAMED ? [...names.slice(0, MOST_NAMED), 'others'] : names;
  const pickups = [
    ...new Set(found.flatMap(({ name, part }) => (name === null ? [`the pick-up of part ${part}`] : []))),
  ];
  return {
    count: found.reduce((sum, { count }) => sum + count, 0),
    where: joined([...(shown.length === 0 ? [] : [listOfBars(shown, words)]), ...pickups]),
  };
};

const notesWords = (count: number): string => (count === 1 ? 'One note lies' : `${count} notes lie`);

/** What of a tune is off the fiddle or above first position, in sentences; none when all of it lies well. */
export const rangeRemarks = (score: Score, words: Words): readonly string[] => {
  const low = placesOf(score, (p) => midiOf(p) < midiOf(LOWEST), words);
  const high = placesOf(score, (p) => midiOf(p) > midiOf(FIRST_POSITION_TOP), words);
  return [
    ...(low.count === 0
      ? []
      : [
          `${notesWords(low.count)} below the fiddle's lowest string: ${low.where}. Move the tune up instead.`,
        ]),
    ...(high.count === 0 ? [] : [`${notesWords(high.count)} above first position: ${high.where}.`]),
  ];
};
