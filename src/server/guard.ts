import type { Context, MiddlewareHandler } from 'hono';
import { getCookie, setCookie } from 'hono/cookie';
import { refuse } from './refuse.ts';
import { isSameKey } from './session.ts';

/** The header that only the workbench's own page sends: a form or a picture of another page cannot. */
const OWN_HEADER = 'x-tuneladder';

/** How the workbench is reached. */
export interface Door {
  readonly key: string;
  readonly port: () => number;
}

/** Cookies know no ports: two shelves that are open at once need two names. */
const cookieName = (port: number): string => `tuneladder-${port}`;

const refuseVisitor = (context: Context, message: string): Response => {
  context.header('cache-control', 'no-store');
  return context.req.path.startsWith('/api/')
    ? refuse(context, 403, message)
    : context.text(`${message}\n`, 403);
};

/** Why a request is not from the workbench's own page; null where it is. */
const strangeness = (context: Context, port: number): string | null => {
  const { req } = context;
  const host = req.header('host') ?? '';
  if (host !== `127.0.0.1:${port}` && host !== `localhost:${port}`)
    return 'This address is not the one that the program gave out.';
  const from = req.header('sec-fetch-site');
  const opens = req.header('sec-fetch-mode') === 'navigate' && req.method === 'GET';
  if (from !== undefined && from !== 'same-origin' && from !== 'none' && !opens)
    return 'This request comes from another page, which is not allowed.';
  if (req.method === 'GET' || req.method === 'HEAD') return null;
  const origin = req.header('origin');
  if (origin !== undefined && origin !== `http://${host}`)
    return 'This request comes from another page, which is not allowed.';
  return req.header(OWN_HEADER) === '1' ? null : 'This request does not come from the workbench.';
};

/**
 * Lets only the workbench's own page in: right host, right origin, and a cookie that the address with the key sets.
 *
 * Everything else is refused in words.
 */
export const guardOf =
  ({ key, port }: Door): MiddlewareHandler =>
  async (context, next) => {
    const strange = strangeness(context, port());
    if (strange !== null) return refuseVisitor(context, strange);
    const given = context.req.query('key');
    if (given !== undefined && context.req.method === 'GET' && isSameKey(given, key)) {
      setCookie(context, cookieName(port()), key, { httpOnly: true, sameSite: 'Strict', path: '/' });
      return context.redirect('/', 303);
    }
    const cookie = getCookie(context, cookieName(port()));
    if (cookie === undefined || !isSameKey(cookie, key))
      return refuseVisitor(
        context,
        'This browser has not been let in. Open the address that the program printed when it was started.',
      );
    return next();
  };
