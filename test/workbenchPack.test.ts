import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, Frame, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { BROWSER, openBrowser } from '../bench/practiceParts/browser.ts';
import { practicePageOf } from '../bench/practiceParts/practicePage.ts';
import { workRoom } from './program.ts';
import { type Started, startWorkbench } from './workbenchServer.ts';

// What comes out of a pack runs beside the workbench, in a real browser, and must reach nothing of it.

const TUNE =
  'X:1\nT:A Kettle for Nell\nR:reel\nM:4/4\nL:1/8\nK:D\nDFAF dAFA|BGdG AFED|DFAF dAFA|BdAF E2D2|\n';

/** A file that somebody was sent as a part of a pack, and that tries all it can. */
const HOSTILE = `<!doctype html><title>x</title><img id="i" src="/api/shelf"><p id="out">nothing</p><script>
const tried = [];
const say = (what) => { tried.push(what); document.getElementById('out').textContent = tried.join(' '); };
try { say('cookie:' + document.cookie); } catch { say('no-cookie'); }
try { say('parent:' + parent.document.title); } catch { say('no-parent'); }
fetch('/api/shelf').then(() => say('fetched'), () => say('no-fetch'));
fetch('/api/lessons/kettle', { method: 'DELETE', mode: 'no-cors' }).then(() => say('deleted'), () => say('no-delete'));
document.getElementById('i').onerror = () => say('no-picture');
</script>`;

describe.skipIf(!BROWSER)('a page of a pack', () => {
  let room: Awaited<ReturnType<typeof workRoom>>;
  let server: Started;
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    room = await workRoom();
    const shelf = join(room.path, 'shelf');
    const pack = join(shelf, 'kettle', 'pack');
    await mkdir(pack, { recursive: true });
    await writeFile(join(shelf, 'kettle', 'tune.abc'), TUNE);
    await writeFile(join(pack, 'practice.html'), await practicePageOf(TUNE, { story: 'A kettle.' }));
    await writeFile(join(pack, 'hostile.html'), HOSTILE);
    server = await startWorkbench(shelf, 4870);
    browser = await openBrowser();
    page = await (await browser.newContext()).newPage();
    await page.goto(`http://127.0.0.1:${server.port}/?key=${server.key}`);
  });
  afterAll(async () => {
    await browser?.close();
    server?.child.kill('SIGINT');
    await server?.ended;
    await room?.leave();
  });

  /** Shows a file of the pack in a frame of the workbench, as its panel does. */
  const framed = async (path: string): Promise<Frame> => {
    const handle = await page.evaluateHandle((address) => {
      const frame = document.createElement('iframe');
      frame.src = address;
      document.body.append(frame);
      return frame;
    }, `/files/kettle/pack/${path}`);
    const frame = await handle.asElement()?.contentFrame();
    if (frame === null || frame === undefined) throw new Error('no frame');
    return frame;
  };

  test('plays', async () => {
    const faults: string[] = [];
    page.on('console', (message) => {
      // A frame may not keep the screen awake; the page works without.
      if (message.type() === 'error' && !message.text().includes('screen-wake-lock'))
        faults.push(`${message.text()} ${message.location().url}`);
    });
    const frame = await framed('practice.html');
    await frame.waitForFunction(() => document.querySelector<HTMLButtonElement>('#play')?.disabled === false);
    await frame.click('#play');
    await frame.waitForSelector('.sounding', { timeout: 20_000 });
    expect(faults).toEqual([]);
  });

  test('that means harm reaches neither workbench nor lessons', async () => {
    const frame = await framed('hostile.html');
    await frame.waitForFunction(() => document.getElementById('out')?.textContent?.split(' ').length === 5);
    const said = (await frame.textContent('#out')) ?? '';
    expect(said.split(' ').sort()).toEqual(['no-cookie', 'no-delete', 'no-fetch', 'no-parent', 'no-picture']);
    expect((await server.page('/api/lessons/kettle')).status).toBe(200);
  });

  test('of another server cannot read or change anything', async () => {
    const other = await (await browser.newContext()).newPage();
    await other.goto(`http://127.0.0.1:${server.port}/?key=${server.key}`);
    // The same host and so the same cookies, but another origin: any other program on this machine.
    const { createServer } = await import('node:http');
    const foreign = createServer((_, answer) =>
      answer.setHeader('content-type', 'text/html').end('<p>foreign'),
    ).listen(0);
    const address = foreign.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    await other.goto(`http://127.0.0.1:${port}/`);
    const outcome = await other.evaluate(async (home) => {
      const outcomes: string[] = [];
      for (const [path, how] of [
        ['/api/shelf', {}],
        ['/api/shelf', { mode: 'no-cors', credentials: 'include' }],
        [
          '/api/lessons/kettle',
          { method: 'DELETE', headers: { 'x-tuneladder': '1' }, credentials: 'include' },
        ],
        ['/api/lessons', { method: 'POST', mode: 'no-cors', credentials: 'include', body: '{}' }],
      ] as [string, RequestInit][])
        outcomes.push(
          await fetch(home + path, how).then(
            async (answer) => `${answer.type} ${answer.status} ${(await answer.text()).length}`,
            () => 'refused',
          ),
        );
      return outcomes;
    }, `http://127.0.0.1:${server.port}`);
    expect(outcome).toEqual(['refused', 'refused', 'refused', 'refused']);
    expect((await server.page('/api/lessons/kettle')).status).toBe(200);
    foreign.close();
  });
});
