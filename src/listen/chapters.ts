import type { PlayedBar } from './playedBars.ts';

/** A stretch of a recording with a title. */
export interface Chapter {
  readonly start: number;
  readonly end: number;
  readonly title: string;
}

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

const two = (n: number): string => String(n).padStart(2, '0');

/** "00:01:02.345". Source: WebVTT, W3C, section "WebVTT timestamp". */
const stamp = (time: number): string => {
  const ms = Math.round(time * 1000);
  const [hours, minutes, seconds] = [
    Math.floor(ms / 3_600_000),
    Math.floor(ms / 60_000) % 60,
    Math.floor(ms / 1000) % 60,
  ];
  return `${two(hours)}:${two(minutes)}:${two(seconds)}.${String(ms % 1000).padStart(3, '0')}`;
};

/** Chapters as a WebVTT file. */
export const vttOf = (chapters: readonly Chapter[]): string =>
  ['WEBVTT', ...chapters.map((c, i) => `${i + 1}\n${stamp(c.start)} --> ${stamp(c.end)}\n${c.title}`)]
    .join('\n\n')
    .concat('\n');

/** Chapters as lines of text, as they are pasted under a video: "0:12 A, time 1". */
export const chapterLines = (chapters: readonly Chapter[]): readonly string[] =>
  chapters.map((c) => `${Math.floor(c.start / 60)}:${two(Math.floor(c.start) % 60)} ${c.title}`);
