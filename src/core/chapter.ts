/** A stretch of a recording with a title. */
export interface Chapter {
  /** Seconds. */
  readonly start: number;
  /** Seconds. */
  readonly end: number;
  /** One line. */
  readonly title: string;
}

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

/** Signs that would be read as markup, and so "-->", too. Source: WebVTT, W3C, section "WebVTT cue text". */
const escaped = (title: string): string =>
  title.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

/** Chapters as a WebVTT file. */
export const vttOf = (chapters: readonly Chapter[]): string =>
  [
    'WEBVTT',
    ...chapters.map((c, i) => `${i + 1}\n${stamp(c.start)} --> ${stamp(c.end)}\n${escaped(c.title)}`),
  ]
    .join('\n\n')
    .concat('\n');

/** Chapters as lines of text, as they are pasted under a video: "0:12 A, time 1". */
export const chapterLines = (chapters: readonly Chapter[]): readonly string[] =>
  chapters.map((c) => `${Math.floor(c.start / 60)}:${two(Math.floor(c.start) % 60)} ${c.title}`);
