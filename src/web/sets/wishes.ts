import type { SetWish } from '../../protocol/index.ts';

/** How many tunes a set has. Common practice: two to four. */
export const SET_SIZE = { least: 2, most: 4 } as const;

/** One tune of a set, as the teacher wants it there. */
export type TuneWish = SetWish['tunes'][number];

/** A lesson in a set about which nothing is decided: twice through. Common practice: two or three times. */
export const usualTune = (lesson: string): TuneWish => ({
  lesson,
  times: 2,
  steady: null,
  upToSpeed: null,
  turn: null,
});

/** The wish with one tune changed. */
export const withTune = (wish: SetWish, index: number, change: Partial<TuneWish>): SetWish => ({
  ...wish,
  tunes: wish.tunes.map((tune, i) => (i === index ? { ...tune, ...change } : tune)),
});
