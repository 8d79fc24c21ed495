import { countWord } from '../core/index.ts';
import type { SetSheetPlan, SetSheetTune } from '../engrave/index.ts';
import { capital, type Paper, TEMPO_NAMES, titlesOf } from '../lesson/index.ts';
import { cornerScoreOf, cornerWords, type TuneInSet, type TuneSet, timesWords } from '../sets/index.ts';
import { sheetPlanOf } from './sheetPlanOf.ts';

/** The steps that a set is played at, as its sheet says them. */
const STEPS = ['steady', 'upToSpeed'] as const;

const tuneOnSheet = (set: TuneSet, tune: TuneInSet, index: number, paper: Paper): SetSheetTune => {
  const { lesson, version, tempos } = tune;
  const plan = sheetPlanOf(lesson, [version.id], paper);
  const score = cornerScoreOf(tune);
  const next = set.tunes[index + 1];
  const [, turn = ''] = cornerWords(set, index);
  return {
    plan: {
      ...plan,
      // Its music is as large as the fewest pages allow.
      largePrint: false,
      tempos: STEPS.map((step) => ({
        beat: lesson.dance.beat,
        beatsPerMinute: tempos[step],
        words: TEMPO_NAMES[step],
      })),
    },
    times: timesWords(tune.times),
    corner:
      score === null || next === undefined
        ? null
        : {
            version: { id: `corner${index + 1}`, name: '', score },
            words: `into ${titlesOf(next.lesson)[0] ?? ''}. ${turn}`,
          },
  };
};

/** What the sheet of a set shows. */
export const setSheetPlanOf = (set: TuneSet, paper: Paper): SetSheetPlan => {
  const [first, ...others] = set.tunes.map((tune, i) => tuneOnSheet(set, tune, i, paper));
  if (first === undefined) throw new RangeError('setSheetPlanOf: a set of no tunes');
  const dances = [...new Set(set.tunes.map(({ lesson }) => lesson.dance.name))];
  return {
    head: {
      ...first.plan,
      title: set.title,
      subtitle: set.tunes[0].version.name,
      dance: `${capital(countWord(set.tunes.length))} tunes`,
      keyAndMetre: dances.join(', '),
      credit: [],
      tempos: [],
    },
    tunes: [first, ...others],
  };
};
