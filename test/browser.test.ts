import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join, normalize } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { levelOf } from '../src/signal/index.ts';
import { ROOT } from './house.ts';

// The same tune rendered by the build in Node and in Chromium, sample beside sample.

const BROWSER = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find(existsSync);
const required = process.env.REQUIRE_BROWSER === '1';
if (BROWSER === undefined && !required)
  process.stderr.write(
    'skipped: test/browser.test.ts needs Chromium (REQUIRE_BROWSER=1 makes that a failure)\n',
  );

/** Everything that the fiddle and the backing can do, in a few bars. */
const TUNE = `X:1
T:Everything
R:reel
M:4/4
L:1/8
K:G
|:D2|"G"~G3B [GD]2(Bd)|"C"(ef){a}ge "D7"!slide!d2(3BBB|"Em"(3efg HB4 zA|"G"G8:|
`;
/** Seconds that are compared: eight bars and the ringing out. */
const MOST_SECONDS = 14;

/** Runs in both: the page imports it, and so does this test. */
const RENDER = `
export const render = async (readAbc, chordPlanOf, timelineOf, readBank, renderTimeline, file) => {
  const bank = readBank(new TextDecoder().decode(await file('bank.json')), await file('bank.pcm'));
  const { score } = readAbc(${JSON.stringify(TUNE)}).tunes[0];
  const band = { players: ['guitar', 'piano', 'bass', 'drum'], pattern: 'usual' };
  const timeline = timelineOf(score, { beatsPerMinute: 110, times: 1, melody: true, backing: chordPlanOf(score), band });
  return renderTimeline(timeline, bank, { vibrato: true });
};`;
const PAGE = `<!doctype html><title>sound</title><pre id="out">working</pre><script type="module">
import { render } from '/render.js';
import { readAbc } from '/dist/notation/index.js';
import { chordPlanOf } from '/dist/harmony/index.js';
import { timelineOf } from '/dist/perform/index.js';
import { readBank, renderTimeline } from '/dist/audio/index.js';
const out = document.getElementById('out');
try {
  const file = async (name) => new Uint8Array(await (await fetch('/assets/bank/' + name)).arrayBuffer());
  const { left, right } = await render(readAbc, chordPlanOf, timelineOf, readBank, renderTimeline, file);
  for (const [side, samples] of Object.entries({ left, right }))
    await fetch('/' + side, { method: 'POST', body: samples.buffer });
  out.textContent = 'done';
} catch (error) { out.textContent = 'failed: ' + error; await fetch('/failed', { method: 'POST', body: String(error) }); }
</script>`;

const TYPES: Readonly<Record<string, string>> = { '.js': 'text/javascript', '.json': 'application/json' };
const folder = mkdtempSync(join(tmpdir(), 'tuneladder-browser-'));
let server: Server | undefined;
afterAll(() => {
  server?.close();
  rmSync(folder, { recursive: true, force: true });
});

/** Serves the page, the build and the bank; resolves with what the page posts back. */
const postedBack = (posts: Map<string, Buffer>, ready: () => void): Promise<number> =>
  new Promise((resolve) => {
    server = createServer((request, response) => {
      const path = normalize(new URL(request.url ?? '/', 'http://localhost').pathname);
      if (request.method === 'POST') {
        const parts: Buffer[] = [];
        request.on('data', (part: Buffer) => parts.push(part));
        request.on('end', () => {
          posts.set(path.slice(1), Buffer.concat(parts));
          response.end();
          if (posts.has('failed') || (posts.has('left') && posts.has('right'))) ready();
        });
        return;
      }
      const own = { '/': PAGE, '/render.js': RENDER }[path];
      response.setHeader(
        'content-type',
        TYPES[extname(path)] ?? (path === '/' ? 'text/html' : 'application/octet-stream'),
      );
      if (own !== undefined) response.end(own);
      else if (/^\/(dist|assets)\//.test(path) && existsSync(join(ROOT, path)))
        response.end(readFileSync(join(ROOT, path)));
      else response.writeHead(404).end();
    });
    server.listen(0, '127.0.0.1', () => {
      const address = server?.address();
      resolve(typeof address === 'object' && address !== null ? address.port : 0);
    });
  });

/** What Chromium renders, left and right. */
const inChromium = async (browser: string): Promise<readonly Float32Array[]> => {
  const posts = new Map<string, Buffer>();
  let ready: () => void = () => undefined;
  const finished = new Promise<void>((resolve) => {
    ready = resolve;
  });
  const port = await postedBack(posts, () => ready());
  const child = spawn(
    browser,
    ['--headless', '--no-sandbox', '--disable-gpu', `--user-data-dir=${folder}`, `http://127.0.0.1:${port}/`],
    { stdio: 'ignore' },
  );
  const ended = new Promise<void>((resolve) => child.on('exit', () => resolve()));
  await Promise.race([finished, ended]);
  child.kill();
  await ended;
  const failed = posts.get('failed');
  if (failed !== undefined) throw new Error(`in Chromium: ${failed.toString()}`);
  return ['left', 'right'].map((side) => {
    const bytes = posts.get(side) ?? Buffer.alloc(0);
    return new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
  });
};

/** What Node renders with the same build. */
const inNode = async (): Promise<readonly Float32Array[]> => {
  const built = (room: string) => import(new URL(`dist/${room}/index.js`, `file://${ROOT}`).href);
  const { render } = await import(`data:text/javascript,${encodeURIComponent(RENDER)}`);
  const [{ readAbc }, { chordPlanOf }, { timelineOf }, { readBank, renderTimeline }] = await Promise.all(
    ['notation', 'harmony', 'perform', 'audio'].map(built),
  );
  const file = async (name: string) => new Uint8Array(readFileSync(join(ROOT, 'assets/bank', name)));
  const { left, right } = await render(readAbc, chordPlanOf, timelineOf, readBank, renderTimeline, file);
  return [left, right];
};

describe.skipIf(BROWSER === undefined && !required)('Chromium and Node', () => {
  test('render the same samples to within −120 dBFS', async () => {
    if (BROWSER === undefined) throw new Error('Chromium is required (REQUIRE_BROWSER=1) and not installed');
    const [theirs, ours] = [await inChromium(BROWSER), await inNode()];
    let furthest = 0;
    let loudest = 0;
    ours.forEach((samples, side) => {
      expect(samples.length).toBeGreaterThan(5 * 44_100);
      expect(samples.length).toBeLessThan(MOST_SECONDS * 44_100);
      expect(theirs[side]?.length).toBe(samples.length);
      samples.forEach((x, i) => {
        loudest = Math.max(loudest, Math.abs(x));
        furthest = Math.max(furthest, Math.abs(x - (theirs[side]?.[i] ?? 1)));
      });
    });
    expect(loudest).toBeGreaterThan(0.1);
    expect(furthest === 0 ? Number.NEGATIVE_INFINITY : levelOf(furthest)).toBeLessThanOrEqual(-120);
  });
});
