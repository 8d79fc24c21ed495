import { randomBytes } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Context, Hono } from 'hono';
import { bankBytes } from './bankBytes.ts';
import { THREAD_POLICY, workbenchPolicy } from './policies.ts';
import { refuse } from './refuse.ts';
import { fileInside, segmentsOf, sendFile } from './sendFile.ts';
import type { Workbench } from './workbench.ts';

/** Files of the page have their content's sum in their name. */
const FOR_GOOD = 'public, max-age=31536000, immutable';

/** The page itself, its files, its samples, and the news. */
export const addPageRoutes = (app: Hono, { page, news }: Workbench): void => {
  const folder = fileURLToPath(page);

  const pageFile = async (context: Context, path: string, cache: string): Promise<Response> => {
    const segments = segmentsOf(path);
    const file = segments === null ? null : await fileInside(folder, segments);
    return file === null
      ? refuse(context, 404, 'There is nothing at this address.')
      : sendFile(context, file, {
          headers: { 'cache-control': cache, 'content-security-policy': THREAD_POLICY },
        });
  };

  app.get('/api/news', (context) => news.listen(context));
  app.get('/bank', async (context) =>
    context.body(await bankBytes(), 200, {
      'content-type': 'application/octet-stream',
      'cache-control': 'private, max-age=86400',
    }),
  );
  // Browsers ask for it by themselves; there is none.
  app.get('/favicon.ico', (context) => context.body(null, 204));
  app.get('/assets/*', (context) => pageFile(context, context.req.path.slice(1), FOR_GOOD));
  app.get('/thread.js', (context) => pageFile(context, 'thread.js', 'no-cache'));
  app.get('*', async (context) => {
    const { path } = context.req;
    if (path.includes('.') || path.startsWith('/api/') || path.startsWith('/files/'))
      return refuse(context, 404, 'There is nothing at this address.');
    const nonce = randomBytes(16).toString('base64');
    const html = await readFile(join(folder, 'index.html'), 'utf8');
    context.header('content-security-policy', workbenchPolicy(nonce));
    return context.html(html.replaceAll('{nonce}', nonce));
  });
};
