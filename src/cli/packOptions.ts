import type { LessonSettings, Paper } from '../lesson/index.ts';
import { DENSITIES } from '../versions/index.ts';
import { HAND_OPTIONS, handsFrom } from './handOptions.ts';
import { type Io, UsageError } from './io.ts';
import { oneOf } from './oneOf.ts';
import { TRACK_OPTIONS, withTrackOptions } from './trackOptions.ts';

/** What `pack` takes on the command line. */
export const PACK_OPTIONS = {
  out: { type: 'string' },
  tune: { type: 'string' },
  tracks: { type: 'string', default: 'default' },
  times: { type: 'string' },
  paper: { type: 'string' },
  'large-print': { type: 'boolean' },
  teacher: { type: 'string' },
  date: { type: 'string' },
  words: { type: 'string' },
  density: { type: 'string' },
  ...HAND_OPTIONS,
  anyway: { type: 'boolean', default: false },
  update: { type: 'boolean', default: false },
  parcels: { type: 'string' },
  ...TRACK_OPTIONS,
} as const;

/** Papers by what an option says. */
export const PAPERS: Readonly<Record<string, readonly Paper[]>> = {
  a4: ['A4'],
  letter: ['Letter'],
  both: ['A4', 'Letter'],
};

/** A whole number that an option takes. @throws UsageError when the text is none, or out of range */
export const wholeNumber = (option: string, text: string, least: number, most: number): number => {
  const value = Number(text);
  if (!/^\d+$/.test(text) || value < least || value > most) {
    throw new UsageError(`pack: --${option} takes a whole number from ${least} to ${most}, not "${text}"`);
  }
  return value;
};

/** A day that there is: 31 February would otherwise be read as a day in March. */
export const isDate = (text: string): boolean => {
  const day = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(day.getTime()) && day.toISOString().slice(0, 10) === text;
};

/** As in lesson.json. */
export const LONGEST_TEACHER = 200;

type Values = {
  [K in keyof typeof PACK_OPTIONS]?: string | boolean | readonly (string | boolean)[] | undefined;
};

/**
 * A lesson's settings: what the command line says wins over what is stored.
 * @param place - where a path lies that the user gave
 * @throws UsageError when an option is wrong
 */
export const settingsFrom = (
  values: Values,
  stored: LessonSettings,
  place: (path: string) => string,
): LessonSettings => {
  const text = (key: keyof Values): string | undefined => {
    const value = values[key];
    return typeof value === 'string' ? value : undefined;
  };
  const date = text('date') ?? stored.date;
  if (!isDate(date)) throw new UsageError(`pack: --date takes a day like 2026-11-25, not "${date}"`);
  const teacher = text('teacher') ?? stored.teacher;
  if (teacher.length > LONGEST_TEACHER)
    throw new UsageError(`pack: --teacher takes a name of at most ${LONGEST_TEACHER} characters`);
  const times = text('times');
  const paper = text('paper');
  const words = text('words');
  const density = text('density');
  return {
    ...withTrackOptions(stored, values, place),
    ...handsFrom('pack', values, stored),
    date,
    teacher,
    times: times === undefined ? stored.times : wholeNumber('times', times, 1, 9),
    papers:
      paper === undefined
        ? stored.papers
        : (PAPERS[oneOf('pack: --paper', paper, ['a4', 'letter', 'both'])] ?? []),
    largePrint: values['large-print'] === true || stored.largePrint,
    density: density === undefined ? stored.density : oneOf('pack: --density', density, DENSITIES),
    words: words === undefined ? stored.words : oneOf('pack: --words', words, ['british', 'us']),
  };
};

/** The day of `now`, as people there count it. */
export const today = (io: Io): string => {
  const now = io.now();
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};
