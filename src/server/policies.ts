import type { MiddlewareHandler } from 'hono';

/** What the workbench's page may load: its own files, and nothing from anywhere else. */
export const workbenchPolicy = (nonce: string): string =>
  [
    "default-src 'none'",
    "script-src 'self' 'wasm-unsafe-eval'",
    `style-src 'self' 'nonce-${nonce}'`,
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "media-src 'self' blob:",
    "worker-src 'self'",
    "frame-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join('; ');

/** What a thread of the page may load: a worker follows the policy that its script is sent with. */
export const THREAD_POLICY =
  "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; frame-ancestors 'none'";

/** What is no page may load nothing at all. */
const NOTHING = "default-src 'none'; frame-ancestors 'none'";

/**
 * A page out of a pack: it may run what stands in itself, as an origin of its own that reaches neither workbench nor
 * network. Its own, narrower policy stands in it.
 */
const PACK_PAGE = [
  "default-src 'none'",
  "script-src data: 'unsafe-inline'",
  'worker-src data:',
  "style-src 'unsafe-inline'",
  'img-src data:',
  'font-src data:',
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'self'",
  'sandbox allow-scripts',
].join('; ');

/** Browsers show no PDF inside a sandbox; it runs nothing of ours. */
const PACK_PAPER = "frame-ancestors 'self'";

/** The policy that a file of a pack is sent with. */
export const packFilePolicy = (path: string): string =>
  path.toLowerCase().endsWith('.pdf') ? PACK_PAPER : PACK_PAGE;

/** What every answer carries: no guessing of types, no telling of addresses, no use by other pages. */
export const safeHeaders: MiddlewareHandler = async (context, next) => {
  await next();
  const { headers } = context.res;
  headers.set('x-content-type-options', 'nosniff');
  headers.set('referrer-policy', 'no-referrer');
  headers.set('cross-origin-opener-policy', 'same-origin');
  headers.set('cross-origin-resource-policy', 'same-origin');
  if (!headers.has('content-security-policy')) headers.set('content-security-policy', NOTHING);
  if (!headers.has('cache-control')) headers.set('cache-control', 'no-store');
};
