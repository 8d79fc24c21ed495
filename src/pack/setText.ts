import { CARE_LINE, dateWords, RIGHTS_LINE, tempoWords, titlesOf } from '../lesson/index.ts';
import { keyName } from '../music/index.ts';
import { cornerWords, type TuneSet, timesWords } from '../sets/index.ts';

/** The set in words, for the teacher's web page and for whoever backs it. */
export const setText = (set: TuneSet): string => {
  const { teacher, date, words } = set.settings;
  const tunes = set.tunes.flatMap(({ lesson, tempos, times }, i) => [
    `${i + 1}. ${titlesOf(lesson)[0] ?? ''}: ${lesson.dance.name} in ${keyName(lesson.written.key)}, ${timesWords(times)}.`,
    `   Steady: ${tempoWords(lesson, tempos.steady)}. Up to speed: ${tempoWords(lesson, tempos.upToSpeed)}.`,
    ...cornerWords(set, i).map((sentence) => `   ${sentence}`),
    '',
  ]);
  const who = [teacher === '' ? '' : `Taught by ${teacher}.`, dateWords(date, words)].filter((t) => t !== '');
  return `${[set.title, who.join(' '), '', ...tunes, CARE_LINE, RIGHTS_LINE].join('\n')}\n`;
};
