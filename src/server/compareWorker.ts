import { parentPort, workerData } from 'node:worker_threads';
import { loadEngraver } from '../engrave/index.ts';
import type { LessonTexts } from '../shelf/index.ts';
import { comparedLessons } from './compareBars.ts';
import { lessonOnShelf } from './lessonOnShelf.ts';

/** One of the lessons that are compared. */
interface Compared {
  readonly texts: LessonTexts;
  readonly folder: string;
}

const { lessons, today } = workerData as {
  readonly lessons: readonly [Compared, Compared];
  readonly today: string;
};
const [first, second] = await Promise.all(
  lessons.map(({ texts, folder }) => lessonOnShelf(texts, folder, today)),
);
if (first?.kind === 'lesson' && second?.kind === 'lesson')
  parentPort?.postMessage(comparedLessons(first.lesson, second.lesson, await loadEngraver()));
else {
  const wrong = [first, second].find((one) => one?.kind === 'problem');
  parentPort?.postMessage(wrong?.kind === 'problem' ? wrong.message : '');
}
