import { createReadStream } from 'node:fs';
import { lstat, realpath } from 'node:fs/promises';
import { basename, extname, join, sep } from 'node:path';
import { Readable } from 'node:stream';
import type { Context } from 'hono';
import { refuse } from './refuse.ts';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.txt': 'text/plain; charset=utf-8',
  '.abc': 'text/vnd.abc; charset=utf-8',
  '.musicxml': 'application/vnd.recordare.musicxml+xml',
  '.mid': 'audio/midi',
  '.mp3': 'audio/mpeg',
  '.flac': 'audio/flac',
  '.wav': 'audio/wav',
  '.pdf': 'application/pdf',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.zip': 'application/zip',
  '.wasm': 'application/wasm',
  '.woff2': 'font/woff2',
  '.ico': 'image/x-icon',
};

/** The segments of a path as it stands in an address; null where it tries to leave its folder. */
export const segmentsOf = (path: string): readonly string[] | null => {
  try {
    const segments = path.split('/').map(decodeURIComponent);
    const strange = segments.some(
      (segment) => segment === '' || segment === '.' || segment === '..' || /[/\\\0]/.test(segment),
    );
    return strange ? null : segments;
  } catch {
    return null;
  }
};

/** A file inside a folder, also after all links are followed; null where there is none, or it lies elsewhere. */
export const fileInside = async (folder: string, segments: readonly string[]): Promise<string | null> => {
  try {
    const path = await realpath(join(folder, ...segments));
    const inside = path.startsWith(`${await realpath(folder)}${sep}`);
    return inside && (await lstat(path)).isFile() ? path : null;
  } catch {
    return null;
  }
};

/** The stretch that a `Range:` header asks for, both ends included; null: all of it; undefined: there is no such stretch. */
const rangeOf = (header: string | undefined, size: number): readonly [number, number] | null | undefined => {
  const match = /^bytes=(\d*)-(\d*)$/.exec(header ?? '');
  if (match === null || (match[1] === '' && match[2] === '')) return null;
  const [, from = '', to = ''] = match;
  if (from === '') return Number(to) === 0 ? undefined : [Math.max(0, size - Number(to)), size - 1];
  const last = to === '' ? size - 1 : Math.min(Number(to), size - 1);
  return Number(from) > last ? undefined : [Number(from), last];
};

/** "attachment" with a file's name that every browser reads. Source: RFC 6266, section 4. */
export const attachment = (name: string): string => {
  const plain = name.replace(/[^\x20-\x7e]|["\\%]/g, '_');
  const coded = encodeURIComponent(name).replace(/['()*]/g, (c) => `%${c.charCodeAt(0).toString(16)}`);
  return `attachment; filename="${plain}"; filename*=UTF-8''${coded}`;
};

/** How to send a file. */
interface Sending {
  /** To be stored under this name rather than shown. */
  readonly saveAs?: string;
  readonly headers?: Readonly<Record<string, string>>;
}

/** Sends a file, or the stretch of it that was asked for. */
export const sendFile = async (
  context: Context,
  path: string,
  { saveAs, headers = {} }: Sending = {},
): Promise<Response> => {
  const { size } = await lstat(path);
  const range = rangeOf(context.req.header('range'), size);
  const known = TYPES[extname(path).toLowerCase()];
  const all = new Headers({
    'content-type': known ?? 'application/octet-stream',
    'accept-ranges': 'bytes',
    'cache-control': 'no-cache',
    ...headers,
  });
  if (saveAs !== undefined || known === undefined)
    all.set('content-disposition', attachment(saveAs ?? basename(path)));
  if (range === undefined) {
    context.header('content-range', `bytes */${size}`);
    return refuse(context, 416, 'The file has no such stretch.');
  }
  const [start, end] = range ?? [0, size - 1];
  all.set('content-length', String(Math.max(0, end - start + 1)));
  if (range !== null) all.set('content-range', `bytes ${start}-${end}/${size}`);
  const empty = context.req.method === 'HEAD' || size === 0;
  const body = empty ? null : (Readable.toWeb(createReadStream(path, { start, end })) as ReadableStream);
  return new Response(body, { status: range === null ? 200 : 206, headers: all });
};
