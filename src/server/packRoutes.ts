import { join } from 'node:path';
import type { Context, Hono } from 'hono';
import { type Lesson, letterOf } from '../lesson/index.ts';
import { type PackSource, zipForAudience } from '../pack/index.ts';
import { buildRequest, GROUPS, type Group, type PackAnswer } from '../protocol/index.ts';
import { bodyOf } from './body.ts';
import { lessonOnShelf } from './lessonOnShelf.ts';
import { packFolder, packPartsOf, wholeZipIn } from './packParts.ts';
import { packFilePolicy } from './policies.ts';
import { noLesson, refuse } from './refuse.ts';
import { attachment, fileInside, segmentsOf, sendFile } from './sendFile.ts';
import type { Workbench } from './workbench.ts';

/** A lesson that is worked out, and its folder. */
interface InHand {
  readonly lesson: Lesson;
  readonly source: PackSource;
  readonly folder: string;
}

const groupNamed = (name: string): Group | null => GROUPS.find((group) => group === name) ?? null;

const noGroup = (context: Context): Response =>
  refuse(context, 404, `There is no such group; there are ${GROUPS.join(', ')}.`);

const NO_PACK = 'There is no pack yet, or nothing in it for them. Build it first.';

/** Answers with a lesson that is worked out, or with the reason why it cannot be. */
const withLesson = async (
  context: Context,
  { shelf, today }: Workbench,
  answer: (inHand: InHand) => Promise<Response>,
): Promise<Response> => {
  const id = context.req.param('id') ?? '';
  const [texts, folder] = [await shelf.read(id), shelf.folderOf(id)];
  if (texts === null || folder === null) return noLesson(context);
  const worked = await lessonOnShelf(texts.texts, folder, today());
  if (worked.kind === 'problem') return refuse(context, 409, worked.message);
  return answer({ lesson: worked.lesson, source: worked.source, folder });
};

/** How a pack stands, building it, letters. */
const addBuildRoutes = (app: Hono, workbench: Workbench): void => {
  const { shelf, packs, shownFolder } = workbench;
  app.get('/api/lessons/:id/pack', (context) =>
    withLesson(context, workbench, async ({ lesson, source, folder }) => {
      const id = context.req.param('id');
      const answer: PackAnswer = {
        parts: [...(await packPartsOf(lesson, source, folder))],
        build: packs.stateOf(id),
        folder: join(shownFolder, id, 'pack'),
      };
      return context.json(answer);
    }),
  );

  app.post('/api/lessons/:id/pack', async (context) => {
    const read = await bodyOf(context, buildRequest);
    if (read.kind === 'refused') return read.answer;
    const id = context.req.param('id');
    if (shelf.get(id) === null) return noLesson(context);
    const refused = packs.build(id, read.body.parts);
    return refused === null ? context.json({ build: packs.stateOf(id) }, 202) : refuse(context, 409, refused);
  });

  app.delete('/api/lessons/:id/pack', (context) => {
    const id = context.req.param('id');
    packs.stop(id);
    return context.json({ build: packs.stateOf(id) });
  });

  app.get('/api/lessons/:id/letter/:group', (context) => {
    const group = groupNamed(context.req.param('group'));
    if (group === null) return noGroup(context);
    return withLesson(context, workbench, async ({ lesson, source, folder }) => {
      const parts = await packPartsOf(lesson, source, folder);
      const there = parts.filter(({ state }) => state !== 'missing');
      return context.json({ text: letterOf(lesson, group, there) });
    });
  });
};

/** The files of packs, one by one and zipped. */
const addFileRoutes = (app: Hono, workbench: Workbench): void => {
  const { shelf } = workbench;
  app.get('/files/:id/pack/*', async (context) => {
    const folder = shelf.folderOf(context.req.param('id'));
    if (folder === null) return noLesson(context);
    const segments = segmentsOf(context.req.path.split('/').slice(4).join('/'));
    const path = segments === null ? null : await fileInside(packFolder(folder), segments);
    if (path === null) return refuse(context, 404, 'The pack has no such file. Build it first.');
    const name = segments?.at(-1) ?? '';
    return sendFile(context, path, {
      headers: { 'content-security-policy': packFilePolicy(path) },
      ...(context.req.query('save') === '1' ? { saveAs: name } : {}),
    });
  });

  app.get('/files/:id/zip/all', async (context) => {
    const folder = shelf.folderOf(context.req.param('id'));
    if (folder === null) return noLesson(context);
    const zip = await wholeZipIn(folder);
    const path = zip === null ? null : await fileInside(packFolder(folder), [zip]);
    return zip === null || path === null
      ? refuse(context, 404, NO_PACK)
      : sendFile(context, path, { saveAs: zip });
  });

  app.get('/files/:id/zip/:group', (context) => {
    const group = groupNamed(context.req.param('group'));
    if (group === null) return noGroup(context);
    return withLesson(context, workbench, async ({ lesson, folder }) => {
      const parcel = await zipForAudience(packFolder(folder), lesson.settings.audiences, group);
      if (parcel === null) return refuse(context, 404, NO_PACK);
      return context.body(new Uint8Array(parcel.bytes), 200, {
        'content-type': 'application/zip',
        'content-disposition': attachment(parcel.name),
      });
    });
  });
};

/** A lesson's pack: how it stands, building it, its files. */
export const addPackRoutes = (app: Hono, workbench: Workbench): void => {
  addBuildRoutes(app, workbench);
  addFileRoutes(app, workbench);
};
