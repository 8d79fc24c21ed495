import type { Context, Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { deletedAnswer, madeLessons, newLessons, shelfAnswer } from '../protocol/index.ts';
import { bodyOf } from './body.ts';
import { lessonCardOf } from './lessonCard.ts';
import { refuse, refuseTooLarge } from './refuse.ts';
import { tunesReadApart } from './tunesReadApart.ts';
import type { Workbench } from './workbench.ts';

/** Lessons that are listed at once; who has more searches. Ours. */
const MOST_LISTED = 200;
/** The largest file of tunes, in bytes. Ours: as on the command line. */
const LARGEST_FILE = 5_000_000;
/** JSON of it: signs that must be written apart may make it longer. Ours. */
const LARGEST_FILE_AS_JSON = 8_000_000;
const tooLarge = (megabytes: number) => ({
  onError: (context: Context) =>
    refuseTooLarge(
      context,
      `That is too large: at most ${megabytes} MB are taken. Split it into smaller files.`,
    ),
});

/** The list of lessons, and what makes new ones. */
export const addShelfRoutes = (app: Hono, { shelf, packs, shownFolder }: Workbench): void => {
  app.get('/api/shelf', (context) => {
    const found = shelf.search(context.req.query('words') ?? '');
    const lessons = found
      .slice(0, MOST_LISTED)
      .map((lesson) => lessonCardOf(lesson, packs.stateOf(lesson.id).kind === 'building'));
    return context.json(
      shelfAnswer.parse({ folder: shownFolder, all: shelf.size(), matching: found.length, lessons }),
    );
  });

  app.post('/api/tunes', bodyLimit({ maxSize: LARGEST_FILE, ...tooLarge(5) }), async (context) => {
    const bytes = new Uint8Array(await context.req.arrayBuffer());
    if (bytes.length === 0) return refuse(context, 400, 'The file is empty.');
    const read = await tunesReadApart(bytes);
    return read.kind === 'problem' ? refuse(context, 400, read.message) : context.json(read.answer);
  });

  app.post('/api/lessons', bodyLimit({ maxSize: LARGEST_FILE_AS_JSON, ...tooLarge(5) }), async (context) => {
    const read = await bodyOf(context, newLessons);
    if (read.kind === 'refused') return read.answer;
    const made = await shelf.make(read.body);
    if (made.kind === 'problem') return refuse(context, 400, made.message);
    return context.json(madeLessons.parse({ ids: [...made.ids] }), 201);
  });

  app.get('/api/deleted', async (context) => {
    const lessons = await shelf.deleted();
    return context.json(
      deletedAnswer.parse({
        lessons: lessons.map((one) => ({ ...one, when: one.when.toISOString() })),
      }),
    );
  });

  app.delete('/api/deleted/:mark', async (context) =>
    (await shelf.throwAway(context.req.param('mark')))
      ? context.json({})
      : refuse(context, 404, 'This is not among the deleted ones any more.'),
  );

  app.post('/api/deleted/:mark/back', async (context) => {
    const back = await shelf.bringBack(context.req.param('mark'));
    return back === null
      ? refuse(context, 404, 'This is not among the deleted ones any more.')
      : context.json({ ids: [back.id] });
  });
};
