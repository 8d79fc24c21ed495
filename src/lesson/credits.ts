import { keyName } from '../music/index.ts';
import { fieldsOf, titleOf } from '../score/index.ts';
import { barCounts } from './barCounts.ts';
import type { Lesson } from './lesson.ts';
import { capital, noteValueName } from './words.ts';

/** One quiet line where practice is suggested. */
export const CARE_LINE =
  'Rest often, vary what you play and stop at pain; if it stays, see a teacher or a clinician. Keep headphones moderate.';

/** What the teacher should know before handing a lesson out. */
export const RIGHTS_LINE =
  "A traditional tune is free; a living composer's tune, a recording or a printed edition may not be. Check the law and the licences where you live.";

/** "Wren Aldercott", several joined; "Trad." where no composer is named. */
export const creditOf = (lesson: Lesson): string => {
  const composers = fieldsOf(lesson.written, 'C').filter((c) => c.trim() !== '');
  return composers.length === 0 ? 'Trad.' : composers.join(', ');
};

/** Where the setting comes from (`S:`, `B:`, `D:`), "" where the tune does not say. */
export const sourceOfSetting = (lesson: Lesson): string =>
  ['S', 'B', 'D'].flatMap((code) => fieldsOf(lesson.written, code)).join('. ');

/** "Reel in G major, 16 bars, 32 as played." */
export const summaryOf = (lesson: Lesson): string => {
  const { printed, played } = barCounts(lesson);
  const bars = lesson.settings.words === 'us' ? 'measures' : 'bars';
  return `${capital(lesson.dance.name)} in ${keyName(lesson.written.key)}, ${printed} ${bars}${played === printed ? '' : `, ${played} as played`}.`;
};

/** "minim = 70": a tempo with its note value. */
export const tempoWords = (lesson: Lesson, beatsPerMinute: number): string =>
  `${noteValueName(lesson.dance.beat, lesson.settings.words)} = ${Math.round(beatsPerMinute * 10) / 10}`;

/** All titles, the first first. */
export const titlesOf = (lesson: Lesson): readonly string[] => {
  const titles = fieldsOf(lesson.written, 'T').filter((t) => t.trim() !== '');
  return titles.length === 0 ? [titleOf(lesson.written)] : titles;
};
