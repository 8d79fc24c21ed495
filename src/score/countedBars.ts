import type { Bar, Part } from './score.ts';

/** A bar that counts, and what is written around it: a pick-up before, the rest of a split bar behind. */
export interface CountedBar {
  readonly main: Bar;
  /** Index of `main` among the part's written bars. */
  readonly index: number;
  readonly before: readonly Bar[];
  readonly behind: readonly Bar[];
}

interface Gathered extends CountedBar {
  readonly behind: Bar[];
}

/** The bars of a part that have a number, in order; what stands before the first one belongs to it. */
export const countedBarsOf = (part: Part): readonly CountedBar[] => {
  const counted: Gathered[] = [];
  let waiting: Bar[] = [];
  part.bars.forEach((bar, index) => {
    const last = counted.at(-1);
    if (bar.role === 'full') {
      counted.push({ main: bar, index, before: waiting, behind: [] });
      waiting = [];
    } else if (bar.role === 'restOfBar' && last !== undefined && waiting.length === 0) last.behind.push(bar);
    else waiting.push(bar);
  });
  return counted;
};
