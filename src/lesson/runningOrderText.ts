import { chapterLines, vttOf } from '../core/index.ts';
import { titlesOf } from './credits.ts';
import type { Lesson } from './lesson.ts';
import { plannedChapters, runningOrderOf, type Segment, WORDS_A_MINUTE } from './runningOrder.ts';
import { clockTime } from './trackPlan.ts';
import { barWord, listOfBars, type Words } from './words.ts';

/** So many bars are named in a line at most. Ours. */
const MOST_BARS = 8;

/** ", bars 1 and 5"; nothing for the whole tune. */
const barsIn = ({ bars }: Segment, words: Words): string => {
  if (bars.length === 0) return '';
  if (bars.length <= MOST_BARS) return `, ${listOfBars(bars.map(String), words)}`;
  return `, ${barWord(words)}s ${bars.slice(0, MOST_BARS).join(', ')} and ${bars.length - MOST_BARS} more`;
};

const linesOf = (segment: Segment, words: Words): readonly string[] => [
  `      ${segment.what}${barsIn(segment, words)} (${clockTime(segment.played + segment.said)})`,
  ...(segment.say === '' ? [] : [`        ${segment.say}`]),
];

/**
 * The running order of a lesson's video as a text for the teacher: what comes when, how long it takes, the bars that the
 * talk refers to, and the chapters to put under the video once it is cut.
 * @returns plain text, a newline at the end
 */
export const runningOrderText = (lesson: Lesson): string => {
  const order = runningOrderOf(lesson);
  const chapters = plannedChapters(order);
  const { words } = lesson.settings;
  const rows = chapters.map(({ title, start, end, segments }) => [
    `${clockTime(start).padStart(5)} ${title} (${clockTime(end - start)})`,
    ...segments.flatMap((segment) => linesOf(segment, words)),
  ]);
  // Whole seconds, as in the rows above.
  const marks = chapters.map(({ title, start, end }) => ({ title, start: Math.round(start), end }));
  const paragraphs = [
    [`${titlesOf(lesson)[0] ?? ''}: running order of the video`],
    [
      `About ${Math.max(1, Math.round(order.length / 60))} minutes. Playing is counted from tempos, repeats and times through; talking is an estimate from the words of story and notes, ${WORDS_A_MINUTE} a minute.`,
    ],
    ...rows,
    ['Chapters as planned; set the times anew when the video is cut:', ...chapterLines(marks)],
  ];
  return `${paragraphs.map((lines) => lines.join('\n')).join('\n\n')}\n`;
};

/** The planned chapters of the video as a WebVTT file. */
export const runningOrderVtt = (lesson: Lesson): string => vttOf(plannedChapters(runningOrderOf(lesson)));
