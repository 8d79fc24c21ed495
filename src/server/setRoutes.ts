import { readdir } from 'node:fs/promises';
import type { Context, Hono } from 'hono';
import { slugOf } from '../lesson/index.ts';
import { cornerPicturesApart, cornerSoundApart } from '../pack/index.ts';
import {
  cornerAnswer,
  madeSet,
  newSet,
  type SetWish,
  saveSet,
  setAnswer,
  setsAnswer,
} from '../protocol/index.ts';
import { bodyOf } from './body.ts';
import { buildIdOfSet } from './packs.ts';
import { packFilePolicy } from './policies.ts';
import { refuse } from './refuse.ts';
import { fileInside, segmentsOf, sendFile } from './sendFile.ts';
import { setAnswerOf, setsAnswerOf } from './setAnswers.ts';
import { type SetInHand, setOnShelf, setTextOf } from './setOnShelf.ts';
import type { Workbench } from './workbench.ts';

const noSet = (context: Context): Response =>
  refuse(
    context,
    404,
    'This set is not on the shelf any more. Somebody may have deleted or renamed its file.',
  );

/** Answers with a set that could be read, or with the reason why it cannot be. */
const withSet = async (
  context: Context,
  { shelf, today }: Workbench,
  answer: (set: SetInHand) => Promise<Response>,
): Promise<Response> => {
  const read = await setOnShelf(shelf, context.req.param('id') ?? '', today());
  if (read === null) return noSet(context);
  return read.kind === 'problem' ? refuse(context, 409, read.message) : answer(read.set);
};

/** What a new set's file is called: its title, or its first tune's. */
const nameFor = ({ shelf }: Workbench, { title, tunes }: SetWish): string =>
  slugOf(title === '' ? `set ${shelf.get(tunes[0]?.lesson ?? '')?.facts.title ?? ''}` : title);

const addKeepingRoutes = (app: Hono, workbench: Workbench): void => {
  const { shelf, packs } = workbench;
  app.get('/api/sets', async (context) => context.json(setsAnswer.parse(await setsAnswerOf(workbench))));

  app.post('/api/sets', async (context) => {
    const read = await bodyOf(context, newSet);
    if (read.kind === 'refused') return read.answer;
    const { wish } = read.body;
    const written = setTextOf(wish);
    if (written.kind === 'problem') return refuse(context, 400, written.message);
    const id = await shelf.sets.add(nameFor(workbench, wish), written.text);
    return context.json(madeSet.parse({ id }), 201);
  });

  app.get('/api/sets/:id', (context) =>
    withSet(context, workbench, async (set) =>
      context.json(setAnswer.parse(await setAnswerOf(workbench, context.req.param('id'), set))),
    ),
  );

  app.put('/api/sets/:id', async (context) => {
    const read = await bodyOf(context, saveSet);
    if (read.kind === 'refused') return read.answer;
    const { wish, base } = read.body;
    const id = context.req.param('id');
    const written = setTextOf(wish);
    if (written.kind === 'problem') return refuse(context, 400, written.message);
    const saved = await shelf.sets.save(id, written.text, base);
    if (saved === null) return noSet(context);
    if (saved.kind === 'changed')
      return refuse(context, 409, 'The set was changed elsewhere; it is shown here as it is now.');
    return withSet(context, workbench, async (set) =>
      context.json(setAnswer.parse(await setAnswerOf(workbench, id, set))),
    );
  });

  app.delete('/api/sets/:id', async (context) => {
    const id = context.req.param('id');
    packs.stop(buildIdOfSet(id));
    const mark = await shelf.sets.remove(id);
    return mark === null ? noSet(context) : context.json({ mark });
  });
};

const addCornerRoutes = (app: Hono, workbench: Workbench): void => {
  /** The tune before a corner that is asked for; null: there is no such corner. */
  const indexIn = (context: Context, { stored }: SetInHand): number | null => {
    const index = Number(context.req.param('index'));
    return Number.isInteger(index) && index >= 0 && index < stored.lessons.length - 1 ? index : null;
  };
  const noCorner = (context: Context): Response => refuse(context, 404, 'There is no such corner.');

  app.get('/api/sets/:id/corners/:index', (context) =>
    withSet(context, workbench, async (set) => {
      const index = indexIn(context, set);
      if (index === null || set.source === null) return noCorner(context);
      const pictures = await cornerPicturesApart(set.source, index);
      return context.json(cornerAnswer.parse({ pictures: [...pictures] }));
    }),
  );

  app.get('/api/sets/:id/corners/:index/sound', (context) =>
    withSet(context, workbench, async (set) => {
      const index = indexIn(context, set);
      const sound = index === null || set.source === null ? null : await cornerSoundApart(set.source, index);
      return sound === null
        ? noCorner(context)
        : context.body(new Uint8Array(sound), 200, { 'content-type': 'audio/wav' });
    }),
  );
};

const addSetPackRoutes = (app: Hono, workbench: Workbench): void => {
  const { shelf, packs } = workbench;
  app.post('/api/sets/:id/pack', (context) =>
    withSet(context, workbench, async ({ problems }) => {
      if (problems.length > 0) return refuse(context, 409, problems.join(' '));
      const id = buildIdOfSet(context.req.param('id'));
      const refused = packs.build(id);
      return refused === null
        ? context.json({ build: packs.stateOf(id) }, 202)
        : refuse(context, 409, refused);
    }),
  );

  app.delete('/api/sets/:id/pack', (context) => {
    const id = buildIdOfSet(context.req.param('id'));
    packs.stop(id);
    return context.json({ build: packs.stateOf(id) });
  });

  app.get('/files/sets/:id/pack/*', async (context) => {
    const id = context.req.param('id');
    if ((await shelf.sets.read(id)) === null) return noSet(context);
    const segments = segmentsOf(context.req.path.split('/').slice(5).join('/'));
    const path = segments === null ? null : await fileInside(shelf.sets.packOf(id), segments);
    if (path === null) return refuse(context, 404, 'The pack has no such file. Build it first.');
    return sendFile(context, path, {
      headers: { 'content-security-policy': packFilePolicy(path) },
      ...(context.req.query('save') === '1' ? { saveAs: segments?.at(-1) ?? '' } : {}),
    });
  });

  app.get('/files/sets/:id/zip', async (context) => {
    const id = context.req.param('id');
    if ((await shelf.sets.read(id)) === null) return noSet(context);
    const folder = shelf.sets.packOf(id);
    const names = await readdir(folder).catch((): string[] => []);
    const zip = names.find((name) => name.endsWith('.zip'));
    const path = zip === undefined ? null : await fileInside(folder, [zip]);
    return zip === undefined || path === null
      ? refuse(context, 404, 'There is no pack of this set yet. Build it first.')
      : sendFile(context, path, { saveAs: zip });
  });
};

/** Sets: keeping them, their corners, their packs. */
export const addSetRoutes = (app: Hono, workbench: Workbench): void => {
  addKeepingRoutes(app, workbench);
  addCornerRoutes(app, workbench);
  addSetPackRoutes(app, workbench);
};
