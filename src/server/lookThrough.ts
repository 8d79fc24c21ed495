import {
  capital,
  compareSettings,
  type Lesson,
  lessonOf,
  listOfBars,
  techniqueIndexOf,
} from '../lesson/index.ts';
import { readAbc } from '../notation/index.ts';
import { barsOf } from '../score/index.ts';
import type { LessonTexts } from '../shelf/index.ts';
import { lessonOnShelf } from './lessonOnShelf.ts';

/** A lesson that is to be looked through. */
export interface LookOrder {
  readonly id: string;
  readonly texts: LessonTexts;
  readonly folder: string;
  readonly today: string;
  /** The tune as its pack has it, where that is older than the lesson. */
  readonly handedOut: string | null;
}

/** What was found in a lesson. */
export interface Looked {
  readonly id: string;
  readonly techniques: readonly {
    readonly technique: string;
    readonly name: string;
    readonly title: string;
    readonly where: string;
    readonly bar: number | null;
  }[];
  /** What has changed since the pack was made, in sentences. */
  readonly changes: readonly string[];
}

const SETTINGS_CHANGED = 'The tune is the same; settings or words have changed.';

const changesSince = (lesson: Lesson, text: string | null, now: string): readonly string[] => {
  if (text === null) return [];
  const [former] = readAbc(text).tunes;
  if (text === now || former === undefined) return [SETTINGS_CHANGED];
  const { bars } = compareSettings(lessonOf(former.score, lesson.settings), lesson);
  const different = bars.filter(({ differences }) => differences.length > 0);
  const numbers = different.flatMap(({ second }) => (second?.number == null ? [] : [String(second.number)]));
  if (different.length === 0) return [SETTINGS_CHANGED];
  return [
    ...(numbers.length === 0
      ? ['A pick-up is different now.']
      : [
          `${capital(listOfBars(numbers, lesson.settings.words))} ${numbers.length === 1 ? 'is' : 'are'} different now.`,
        ]),
    ...(different.some(({ second }) => second === null) ? ['Bars that were handed out are gone.'] : []),
  ];
};

/** Looks a lesson through: which techniques it teaches, and what has changed since it was handed out. */
export const lookThrough = async ({ id, texts, folder, today, handedOut }: LookOrder): Promise<Looked> => {
  const worked = await lessonOnShelf(texts, folder, today);
  if (worked.kind === 'problem') return { id, techniques: [], changes: [] };
  const { lesson } = worked;
  const written = barsOf(lesson.versions.full);
  const techniques = techniqueIndexOf([{ name: id, lesson }]).flatMap(({ technique, name, lessons }) =>
    lessons.map(({ title, where, places }) => {
      const at = written.findIndex(({ part, index }) => part === places[0]?.part && index === places[0]?.bar);
      const bar =
        at < 0 ? null : (written.slice(at).find((one) => one.bar.number !== null)?.bar.number ?? null);
      return { technique, name, title, where, bar };
    }),
  );
  return { id, techniques, changes: changesSince(lesson, handedOut, texts.abc) };
};
