import type { Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { newTitle, type SaveAnswer, type StoredLesson, saveRequest } from '../protocol/index.ts';
import type { LessonNow } from '../shelf/index.ts';
import { bodyOf } from './body.ts';
import { noLesson, refuse, refuseTooLarge } from './refuse.ts';
import { wordsTextFor } from './standingWords.ts';
import type { Workbench } from './workbench.ts';

/** The largest lesson that is saved, in bytes of JSON: two texts of two megabytes. Ours. */
const LARGEST_LESSON = 6_000_000;

/** One lesson: its texts, its title, its earlier states. */
export const addLessonRoutes = (app: Hono, { shelf, packs, today }: Workbench): void => {
  const stored = async (id: string, { texts, revision, problems }: LessonNow): Promise<StoredLesson> => {
    const words = await wordsTextFor(shelf.folder, shelf.folderOf(id));
    return {
      ...texts,
      id,
      revision,
      words: words.text,
      wordsProblems: [...words.problems],
      today: today(),
      problems: [...problems],
    };
  };

  app.get('/api/lessons/:id', async (context) => {
    const id = context.req.param('id');
    const lesson = await shelf.read(id);
    return lesson === null ? noLesson(context) : context.json(await stored(id, lesson));
  });

  const limit = bodyLimit({
    maxSize: LARGEST_LESSON,
    onError: (context) => refuseTooLarge(context, 'The lesson is too large: at most 2 MB of text are saved.'),
  });
  app.put('/api/lessons/:id', limit, async (context) => {
    const read = await bodyOf(context, saveRequest);
    if (read.kind === 'refused') return read.answer;
    const id = context.req.param('id');
    const { base, abc, settings, keepsBefore = false } = read.body;
    const saved = await shelf.save(id, { abc, settings }, { base, keepsBefore });
    if (saved === null) return noLesson(context);
    const answer: SaveAnswer =
      saved.kind === 'saved'
        ? saved
        : { kind: 'changed', now: await stored(id, saved.now), base: saved.base };
    return context.json(answer);
  });

  app.delete('/api/lessons/:id', async (context) => {
    packs.stop(context.req.param('id'));
    const mark = await shelf.remove(context.req.param('id'));
    return mark === null ? noLesson(context) : context.json({ mark });
  });

  app.post('/api/lessons/:id/copy', async (context) => {
    const id = await shelf.copy(context.req.param('id'));
    return id === null ? noLesson(context) : context.json({ ids: [id] }, 201);
  });

  app.put('/api/lessons/:id/title', async (context) => {
    const read = await bodyOf(context, newTitle);
    if (read.kind === 'refused') return read.answer;
    const done = await shelf.retitle(context.req.param('id'), read.body.title);
    if (done === null) return noLesson(context);
    return done
      ? context.json({ title: read.body.title })
      : refuse(
          context,
          409,
          'The title could not be changed: the lesson has no tune, or it changed just now.',
        );
  });

  app.get('/api/lessons/:id/earlier', async (context) => {
    const states = await shelf.earlier(context.req.param('id'));
    if (states === null) return noLesson(context);
    return context.json({
      checkpoints: states.map(({ mark, when, what }) => ({ mark, when: when.toISOString(), what })),
    });
  });

  app.get('/api/lessons/:id/earlier/:mark', async (context) => {
    const { id, mark } = context.req.param();
    const texts = await shelf.earlierTexts(id, mark);
    return texts === null
      ? refuse(context, 404, 'This earlier state is not kept any more.')
      : context.json(texts);
  });
};
