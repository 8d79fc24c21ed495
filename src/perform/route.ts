import { type Bar, playedOrder, type Score } from '../score/index.ts';

/** A written bar: its part and its index in that part's bars. */
export interface BarPlace {
  readonly part: string;
  readonly bar: number;
}

/** A stretch of the tune from one written bar to another, both played. */
export interface Passage {
  readonly from: BarPlace;
  readonly to: BarPlace;
}

/** What of a tune is played, and how often. */
export interface Extent {
  /** Times through the tune, or through the passage. */
  readonly times: number;
  /** Only this stretch, over and over; null: all of it. */
  readonly passage: Passage | null;
  /** So many bars are played and then left to the learner, with the backing alone; null: no echo. */
  readonly echo: number | null;
}

/** A bar on the way through the tune. */
export interface RouteStop {
  readonly bar: Bar;
  readonly part: string;
  /** Index in the part's written bars. */
  readonly index: number;
  /** Which time through, from 0. */
  readonly time: number;
  /** The learner's turn: the fiddle rests. */
  readonly answer: boolean;
}

type Step = Omit<RouteStop, 'time' | 'answer'>;

const stepsOf = (score: Score): readonly Step[] => {
  const barOf = new Map(
    score.parts.flatMap((p) => p.bars.map((bar, i) => [`${p.label}/${i}`, bar] as const)),
  );
  return playedOrder(score).flatMap(({ part, bar: index }) => {
    const bar = barOf.get(`${part}/${index}`);
    return bar === undefined ? [] : [{ bar, part, index }];
  });
};

const isAt = (step: Step | undefined, place: BarPlace): boolean =>
  step?.part === place.part && step.index === place.bar;

/** The shortest way from the one bar to the other in the order of playing, the pick-up before it included. */
const stepsWithin = (steps: readonly Step[], { from, to }: Passage): readonly Step[] => {
  let best: readonly [number, number] | null = null;
  let start: number | null = null;
  steps.forEach((step, i) => {
    if (isAt(step, from)) start = i;
    if (start !== null && isAt(step, to) && (best === null || i - start < best[1] - best[0]))
      best = [start, i];
  });
  if (best === null)
    throw new RangeError(`the tune never goes from bar ${from.part}/${from.bar} to ${to.part}/${to.bar}`);
  let [first, last]: readonly [number, number] = best;
  if (steps[first]?.bar.role === 'full' && steps[first - 1]?.bar.role === 'pickup') first -= 1;
  while (steps[last + 1]?.bar.role === 'restOfBar') last += 1;
  return steps.slice(first, last + 1);
};

/** Phrases of so many bars: a pick-up goes with the bar that it leads into, the rest of a split bar with its beginning. */
const phrasesOf = (steps: readonly Step[], bars: number): readonly (readonly Step[])[] => {
  const phrases: Step[][] = [];
  let full = 0;
  steps.forEach((step, i) => {
    const counts = step.bar.role === 'full';
    const opens = counts || step.bar.role === 'pickup';
    const led = counts && i > 0 && steps[i - 1]?.bar.role === 'pickup';
    if (phrases.length === 0 || (opens && !led && full >= bars)) {
      phrases.push([]);
      full = 0;
    }
    if (counts) full += 1;
    phrases.at(-1)?.push(step);
  });
  return phrases;
};

/**
 * Which bars are played, one after another?
 * @throws RangeError when the passage is not a stretch of the tune
 */
export const routeOf = (score: Score, { times, passage, echo }: Extent): readonly RouteStop[] => {
  const all = stepsOf(score);
  const steps = passage === null ? all : stepsWithin(all, passage);
  const once =
    echo === null
      ? steps.map((step) => ({ ...step, answer: false }))
      : phrasesOf(steps, echo).flatMap((phrase) =>
          [false, true].flatMap((answer) => phrase.map((step) => ({ ...step, answer }))),
        );
  return Array.from({ length: times }, (_, time) => once.map((step) => ({ ...step, time }))).flat();
};
