import { DEFAULT_SETTINGS, type Paper } from '../lesson/index.ts';
import type { SetPlan, SetPlanTune } from '../sets/index.ts';
import { UsageError } from './io.ts';
import { oneOf } from './oneOf.ts';
import { isDate, LONGEST_TEACHER, PAPERS } from './packOptions.ts';

/** What `set` takes on the command line. */
export const SET_OPTIONS = {
  out: { type: 'string' },
  save: { type: 'string' },
  title: { type: 'string' },
  times: { type: 'string' },
  tempo: { type: 'string' },
  plays: { type: 'string' },
  paper: { type: 'string' },
  teacher: { type: 'string' },
  date: { type: 'string' },
} as const;

/** Values of these options. */
export type SetValues = { readonly [K in keyof typeof SET_OPTIONS]?: string | undefined };

/** As in a set's file. */
const LONGEST_TITLE = 200;
const TIMES = { least: 1, most: 9 } as const;
/** Beats a minute, as in lesson.json. */
const TEMPI = { least: 10, most: 400 } as const;

/** One number for all tunes, or one for each. */
const numbersFrom = (
  option: string,
  text: string | undefined,
  {
    tunes,
    least,
    most,
    whole,
  }: { readonly tunes: number; readonly least: number; readonly most: number; readonly whole: boolean },
): readonly (number | undefined)[] => {
  if (text === undefined) return Array.from({ length: tunes }, () => undefined);
  const numbers = text.split(',').map((word) => (word.trim() === '' ? Number.NaN : Number(word)));
  const wrong = numbers.some((n) => !(n >= least && n <= most) || (whole && !Number.isInteger(n)));
  if (wrong)
    throw new UsageError(
      `set: --${option} takes ${whole ? 'whole numbers' : 'numbers'} from ${least} to ${most}, like 3,2, not "${text}"`,
    );
  if (numbers.length !== 1 && numbers.length !== tunes)
    throw new UsageError(
      `set: --${option} has ${numbers.length} numbers for ${tunes} tunes; say one, or one for each`,
    );
  return Array.from({ length: tunes }, (_, i) => numbers[i] ?? numbers[0]);
};

/**
 * A set's plan with what the command line says.
 * @param stored - as it is without, one tune for each lesson
 * @throws UsageError when an option is wrong
 */
export const planFrom = (values: SetValues, stored: SetPlan): SetPlan => {
  const tunes = stored.tunes.length;
  const times = numbersFrom('times', values.times, { tunes, ...TIMES, whole: true });
  const tempi = numbersFrom('tempo', values.tempo, { tunes, ...TEMPI, whole: false });
  if ((values.title ?? '').length > LONGEST_TITLE)
    throw new UsageError(`set: --title takes at most ${LONGEST_TITLE} characters`);
  return {
    title: values.title ?? stored.title,
    version: values.plays ?? stored.version,
    tunes: stored.tunes.map((tune, i): SetPlanTune => {
      const upToSpeed = tempi[i];
      return {
        ...tune,
        times: times[i] ?? tune.times,
        tempos: upToSpeed === undefined ? tune.tempos : { upToSpeed },
      };
    }),
  };
};

/** Settings of the first lesson that the command line may overrule for the whole set. */
export interface WholeSet {
  readonly papers?: readonly Paper[];
  readonly teacher?: string;
  readonly date?: string;
}

/**
 * What the command line says of the whole set.
 * @throws UsageError when an option is wrong
 */
export const wholeSetFrom = ({ paper, teacher, date }: SetValues): WholeSet => {
  if (date !== undefined && !isDate(date))
    throw new UsageError(`set: --date takes a day like 2026-11-25, not "${date}"`);
  if (teacher !== undefined && teacher.length > LONGEST_TEACHER)
    throw new UsageError(`set: --teacher takes a name of at most ${LONGEST_TEACHER} characters`);
  return {
    ...(paper === undefined
      ? {}
      : {
          papers: PAPERS[oneOf('set: --paper', paper, ['a4', 'letter', 'both'])] ?? DEFAULT_SETTINGS.papers,
        }),
    ...(teacher === undefined ? {} : { teacher }),
    ...(date === undefined ? {} : { date }),
  };
};
