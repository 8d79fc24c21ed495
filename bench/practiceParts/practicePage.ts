import type { loadEngraver as LoadEngraver } from '../../src/engrave/index.ts';
import { DEFAULT_SETTINGS, type LessonSettings, lessonOf } from '../../src/lesson/index.ts';
import { readAbc } from '../../src/notation/index.ts';
import type { loadBank as LoadBank } from '../../src/pack/loadBank.ts';
import type { practicePage as PracticePage } from '../../src/pack/practicePage.ts';

const built = (name: string): Promise<unknown> => import(new URL(`../../dist/${name}`, import.meta.url).href);

/** The practice page of a tune, made by the build: the bundled page lies there. */
export const practicePageOf = async (
  abc: string,
  settings: Partial<LessonSettings> = {},
): Promise<string> => {
  const { practicePage } = (await built('pack/practicePage.js')) as { practicePage: typeof PracticePage };
  const { loadBank } = (await built('pack/loadBank.js')) as { loadBank: typeof LoadBank };
  const { loadEngraver } = (await built('engrave/index.js')) as { loadEngraver: typeof LoadEngraver };
  const [tune] = readAbc(abc).tunes;
  if (tune === undefined) throw new Error('no tune');
  const lesson = lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31', ...settings });
  return practicePage(lesson, { engraver: await loadEngraver(), bank: await loadBank() }, () => undefined);
};
