import { spawn } from 'node:child_process';
import { request } from 'node:http';
import { join } from 'node:path';
import { ROOT } from './house.ts';

/** What was answered. */
export interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly text: string;
}

/** What to ask beside the address. */
interface Ask {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Uint8Array;
}

/** A request with exactly these headers: `fetch` would not let a test lie about where it comes from. */
export const ask = (
  port: number,
  path: string,
  { method = 'GET', headers = {}, body }: Ask = {},
): Promise<Answer> =>
  new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port, path, method, headers }, (answer) => {
      const pieces: Buffer[] = [];
      answer.on('error', reject);
      answer.on('data', (piece: Buffer) => pieces.push(piece));
      answer.on('end', () =>
        resolve({
          status: answer.statusCode ?? 0,
          headers: answer.headers,
          text: Buffer.concat(pieces).toString('utf8'),
        }),
      );
    });
    asked.on('error', reject);
    asked.end(body);
  });

/** The workbench's server as a process of its own. */
export interface Started {
  readonly port: number;
  readonly key: string;
  readonly child: ReturnType<typeof spawn>;
  readonly ended: Promise<number | null>;
  readonly said: () => string;
  /** Asks as the workbench's own page does. */
  readonly page: (path: string, ask?: Ask) => Promise<Answer>;
}

/** Starts it as a user does. */
export const startWorkbench = async (shelf: string, port: number): Promise<Started> => {
  const args = [join(ROOT, 'bin/tuneladder.mjs'), 'open', shelf, '--port', String(port), '--no-browser'];
  const child = spawn(process.execPath, args);
  let out = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    out += text;
  });
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    out += text;
  });
  const ended = new Promise<number | null>((resolve) => child.on('close', resolve));
  const address = /http:\/\/127\.0\.0\.1:(\d+)\/\?key=([0-9a-f]+)/;
  while (!address.test(out)) {
    if (child.exitCode !== null) throw new Error(out);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  const [, found = '', key = ''] = address.exec(out) ?? [];
  const own = {
    cookie: `tuneladder-${found}=${key}`,
    'x-tuneladder': '1',
    'content-type': 'application/json',
  };
  return {
    port: Number(found),
    key,
    child,
    ended,
    said: () => out,
    page: (path, { method, headers, body } = {}) =>
      ask(Number(found), path, {
        ...(method === undefined ? {} : { method }),
        headers: { ...own, ...headers },
        ...(body === undefined ? {} : { body }),
      }),
  };
};
