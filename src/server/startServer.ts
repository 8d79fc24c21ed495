import { createServer, type Server } from 'node:http';
import { homedir } from 'node:os';
import { relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { getRequestListener } from '@hono/node-server';
import { type Context, Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { openShelf } from '../shelf/index.ts';
import { codeOf, WorldError, worldError } from '../store/index.ts';
import { addCompareRoutes } from './compareRoutes.ts';
import { guardOf } from './guard.ts';
import { addLessonRoutes } from './lessonRoutes.ts';
import { newsDesk } from './newsDesk.ts';
import { addPackRoutes } from './packRoutes.ts';
import { packsOf } from './packs.ts';
import { addPageRoutes } from './pageRoutes.ts';
import { safeHeaders } from './policies.ts';
import { refuse, refuseTooLarge } from './refuse.ts';
import { keyOfShelf } from './session.ts';
import { addSetRoutes } from './setRoutes.ts';
import { addShelfRoutes } from './shelfRoutes.ts';
import { techniqueBookOf } from './techniqueBook.ts';
import { dayOf } from './today.ts';
import { addWordsRoutes } from './wordsRoutes.ts';
import type { Workbench } from './workbench.ts';

/** How to start the workbench's server. */
export interface ServerOptions {
  /** The folder of lessons; made where it is missing. */
  readonly shelf: string;
  /** The port to begin with; the next one that is free is taken. Default 4717. */
  readonly port?: number;
  /** Lessons that a missing or empty shelf begins with; default the demo lessons. */
  readonly demo?: string;
  readonly now?: () => Date;
  /** The folder of the page's files; default that of the build. */
  readonly page?: URL;
}

/** A server that runs. */
export interface RunningServer {
  /** The address to open: it carries the key that lets the browser in. */
  readonly address: string;
  readonly port: number;
  /** The folder of lessons as its owner would name it. */
  readonly shownFolder: string;
  readonly close: () => Promise<void>;
}

/** Ours: not among the ports that a registered service is known by. */
const USUAL_PORT = 4717;
/** Ports that are tried, one after the other. Ours. */
const PORTS_TRIED = 50;
/** The largest request that is read at all, in bytes; most addresses take less. Ours. */
const LARGEST_BODY = 8_000_000;
/** Only this machine itself is answered. */
const LOOPBACK = '127.0.0.1';

const listenAt = (server: Server, port: number): Promise<void> =>
  new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, LOOPBACK, () => {
      server.off('error', reject);
      resolve();
    });
  });

/** Listens at the first free port. @throws WorldError where none is */
const listen = async (server: Server, from: number): Promise<number> => {
  for (let port = from; port < from + PORTS_TRIED && port < 65_536; port += 1) {
    try {
      await listenAt(server, port);
      return port;
    } catch (error) {
      if (codeOf(error) !== 'EADDRINUSE') throw worldError(`cannot listen at port ${port}`, error);
    }
  }
  throw new WorldError(
    `all ports from ${from} to ${from + PORTS_TRIED - 1} are taken; choose another one with --port`,
  );
};

/** Answers that are on their way have so long, in milliseconds. Ours. */
const LAST_ANSWERS = 1000;

const closeSoon = async (server: Server): Promise<void> => {
  const closed = new Promise<void>((resolve) => server.close(() => resolve()));
  server.closeIdleConnections();
  const timer = setTimeout(() => server.closeAllConnections(), LAST_ANSWERS);
  await closed;
  clearTimeout(timer);
};

/** "~/Tuneladder" for a folder of the user's home. */
const shownPath = (folder: string): string => {
  const inHome = relative(homedir(), folder);
  return inHome === '' || inHome.startsWith('..') || inHome === folder ? folder : `~${sep}${inHome}`;
};

const tooLarge = (context: Context): Promise<Response> =>
  refuseTooLarge(context, 'That is too large: at most 5 MB are taken. Split it into smaller files.');

const appOf = (workbench: Workbench, key: string, port: () => number): Hono => {
  const app = new Hono();
  app.use(safeHeaders);
  app.use(guardOf({ key, port }));
  app.use('/api/*', bodyLimit({ maxSize: LARGEST_BODY, onError: tooLarge }));
  addShelfRoutes(app, workbench);
  addLessonRoutes(app, workbench);
  addSetRoutes(app, workbench);
  addPackRoutes(app, workbench);
  addWordsRoutes(app, workbench);
  addCompareRoutes(app, workbench);
  addPageRoutes(app, workbench);
  app.notFound((context) => refuse(context, 404, 'There is nothing at this address.'));
  app.onError((error, context) =>
    error instanceof WorldError
      ? refuse(context, 507, `${error.message.charAt(0).toUpperCase()}${error.message.slice(1)}.`)
      : refuse(context, 500, `This is a fault of the program, please report it: ${error.message}`),
  );
  return app;
};

/**
 * Opens a shelf and serves the workbench on this machine alone.
 * @throws WorldError when the shelf cannot be opened or no port is free
 */
export const startServer = async (options: ServerOptions): Promise<RunningServer> => {
  const now = options.now ?? (() => new Date());
  const demo = options.demo ?? fileURLToPath(new URL('../../demo/lessons', import.meta.url));
  const shelf = await openShelf({ folder: options.shelf, demo, now });
  const news = newsDesk();
  shelf.onNews(news.tell);
  const today = (): string => dayOf(now());
  const packs = packsOf({ shelf, today, onState: (id, build) => news.tell({ kind: 'build', id, build }) });
  const techniques = techniqueBookOf(shelf, today);
  const shownFolder = shownPath(shelf.folder);
  const page = options.page ?? new URL('../workbench/', import.meta.url);
  const key = await keyOfShelf(shelf.folder, now());
  let port = 0;
  const app = appOf({ shelf, packs, techniques, news, shownFolder, today, page }, key, () => port);
  const server = createServer(getRequestListener(app.fetch));
  try {
    port = await listen(server, options.port ?? USUAL_PORT);
  } catch (error) {
    await shelf.close();
    throw error;
  }
  return {
    address: `http://${LOOPBACK}:${port}/?key=${key}`,
    port,
    shownFolder,
    close: async () => {
      news.close();
      await techniques.close();
      await packs.close();
      await closeSoon(server);
      await shelf.close();
    },
  };
};
