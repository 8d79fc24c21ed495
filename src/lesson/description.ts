import {
  CARE_LINE,
  creditOf,
  RIGHTS_LINE,
  sourceOfSetting,
  summaryOf,
  tempoWords,
  titlesOf,
} from './credits.ts';
import { manyVersions } from './ladder.ts';
import type { Lesson } from './lesson.ts';
import { clockTime, type TrackChoice, trackLength, trackPlans } from './trackPlan.ts';

/**
 * The text that goes beside the lesson on a web page: what it is, what is in it, who made the tune.
 * @returns plain text, lines not broken, a newline at the end
 */
export const descriptionOf = (lesson: Lesson, choice: TrackChoice): string => {
  const [title = '', ...others] = titlesOf(lesson);
  const source = sourceOfSetting(lesson);
  const tracks = trackPlans(lesson, choice).map((plan) => {
    const number = String(plan.number).padStart(2, '0');
    if (plan.own !== null) return `  ${number}  ${plan.title} (recorded)`;
    const length = clockTime(trackLength(lesson, plan));
    return `  ${number}  ${plan.title} (${tempoWords(lesson, plan.tempos[0])}, ${length})`;
  });
  const paragraphs = [
    [title, ...others.map((o) => `Also called ${o}`), summaryOf(lesson)],
    [
      `Tune: ${creditOf(lesson)}`,
      ...(source === '' ? [] : [`Setting: ${source}`]),
      ...(lesson.settings.teacher === '' ? [] : [`Taught by ${lesson.settings.teacher}`]),
    ],
    ...(lesson.settings.story.trim() === '' ? [] : [[lesson.settings.story.trim()]]),
    [
      `${manyVersions(lesson.ladder.length)} versions that can be played together:`,
      ...lesson.ladder.map(({ name, what }) => `  ${name}: ${what}`),
    ],
    ['Play-along tracks:', ...tracks],
    [
      'Also: a sheet of each version and one of all of them together; a practice page that shows and plays every version at any tempo; notes bar by bar.',
    ],
    [CARE_LINE],
    [RIGHTS_LINE],
  ];
  return `${paragraphs.map((lines) => lines.join('\n')).join('\n\n')}\n`;
};
