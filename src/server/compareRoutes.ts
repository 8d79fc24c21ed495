import type { Hono } from 'hono';
import { type CompareAnswer, compareAnswer } from '../protocol/index.ts';
import { workedApart } from '../store/index.ts';
import { noLesson, refuse } from './refuse.ts';
import type { Workbench } from './workbench.ts';

/** In a thread of its own: sixty bars are drawn. @returns in a sentence why a lesson cannot be compared */
const comparedApart = (workerData: unknown): Promise<CompareAnswer | string> =>
  workedApart(
    new URL('./compareWorker.js', import.meta.url),
    workerData,
    'the lessons could not be compared',
  );

/** Two lessons of the shelf compared. */
export const addCompareRoutes = (app: Hono, { shelf, today }: Workbench): void => {
  app.get('/api/compare/:first/:second', async (context) => {
    const ids = [context.req.param('first'), context.req.param('second')];
    const lessons = [];
    for (const id of ids) {
      const [now, folder] = [await shelf.read(id), shelf.folderOf(id)];
      if (now === null || folder === null) return noLesson(context);
      lessons.push({ texts: now.texts, folder });
    }
    const answer = await comparedApart({ lessons, today: today() });
    return typeof answer === 'string'
      ? refuse(context, 409, answer)
      : context.json(compareAnswer.parse(answer));
  });
};
