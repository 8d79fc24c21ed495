import type { Chapter } from '../core/index.ts';
import type { PlayedBar } from './playedBars.ts';

const begins = (bar: PlayedBar, before: PlayedBar | undefined): boolean =>
  before === undefined || before.part !== bar.part || before.pass !== bar.pass;

/** One chapter for each time a part is played: "A, time 1". */
export const chaptersOf = (bars: readonly PlayedBar[]): readonly Chapter[] => {
  const chapters: { start: number; end: number; title: string }[] = [];
  bars.forEach((bar, i) => {
    const last = chapters.at(-1);
    if (last === undefined || begins(bar, bars[i - 1]))
      chapters.push({
        start: Math.max(0, bar.start),
        end: bar.end,
        title: `${bar.part}, time ${bar.pass + 1}`,
      });
    else last.end = bar.end;
  });
  return chapters;
};
