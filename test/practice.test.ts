import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { BROWSER, openBrowser } from '../bench/practiceParts/browser.ts';
import { practicePageOf } from '../bench/practiceParts/practicePage.ts';
import { workRoom } from './program.ts';

// A reel with a roll, a treble, a pick-up, repeats, and all that a text can do to a page.
const TUNE = `X:3
T:The Kettle </script><img src=x onerror=alert(1)>
C:A. <b>Nobody</b>
R:reel
M:4/4
L:1/8
K:G
|:D2|~G3B d2Bd|efge dBAB|G2{a}GB dBAB|(3BBB AF G2:|
`;
const SIZES = [
  { width: 390, height: 844 },
  { width: 844, height: 390 },
  { width: 820, height: 1180 },
  { width: 1440, height: 900 },
] as const;

let room: Awaited<ReturnType<typeof workRoom>>;
let browser: Browser;
let html = '';
let url = '';

beforeAll(async () => {
  room = await workRoom();
  if (!BROWSER) return;
  html = await practicePageOf(TUNE, { story: 'Said & done: </script><script>alert(2)</script>' });
  await writeFile(join(room.path, 'practice.html'), html);
  url = pathToFileURL(join(room.path, 'practice.html')).href;
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await room.leave();
});

/** The page opened in a browser of its own, its faults and requests written down. */
const opened = async (
  how: { readonly hash?: string; readonly options?: BrowserContextOptions; readonly before?: string } = {},
): Promise<{ readonly page: Page; readonly faults: string[]; readonly requests: string[] }> => {
  const context = await browser.newContext({ viewport: SIZES[0], ...how.options });
  if (how.before !== undefined) await context.addInitScript(how.before);
  const page = await context.newPage();
  const faults: string[] = [];
  const requests: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(message.text());
  });
  page.on('dialog', (dialog) => {
    faults.push(`dialog ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on('request', (request) => requests.push(request.url()));
  await page.goto(url + (how.hash ?? ''));
  await page.waitForFunction(() => document.querySelector<HTMLButtonElement>('#play')?.disabled === false);
  return { page, faults, requests };
};

const soundingNote = (page: Page): Promise<string> =>
  page.waitForSelector('.sounding', { timeout: 20_000 }).then((note) => note.evaluate((e) => e.id));

describe.skipIf(!BROWSER)('the practice page', () => {
  test('needs nothing from anywhere, and nothing in the lesson becomes markup', async () => {
    const { page, faults, requests } = await opened();
    await page.click('#play');
    expect(await soundingNote(page)).toMatch(/^bones-/);
    expect(requests.filter((r) => !r.startsWith('data:'))).toEqual([url]);
    expect(faults).toEqual([]);
    expect(await page.textContent('h1')).toBe('The Kettle </script><img src=x onerror=alert(1)>');
    expect(await page.locator('img').count()).toBe(0);
    await page.context().close();
  });
  test.each([
    ...SIZES.map((viewport) => ({ ...viewport, colorScheme: 'light' as const })),
    { ...SIZES[0], colorScheme: 'dark' as const },
  ])(
    'has nothing in anybody’s way at $width × $height, $colorScheme',
    async ({ colorScheme, ...viewport }) => {
      const { page } = await opened({ hash: '#full', options: { viewport, colorScheme } });
      await page.click('#more');
      await page.click('#finger-map summary');
      await page.click('#phrase-map summary');
      await page.evaluate(axe.source);
      const found = await page.evaluate(async () => {
        const axe = (
          globalThis as unknown as { axe: { run: () => Promise<{ violations: { id: string }[] }> } }
        ).axe;
        return (await axe.run()).violations.map((v) => v.id);
      });
      expect(found).toEqual([]);
      await page.context().close();
    },
  );
  test('plays without a worklet too, and says so', async () => {
    const { page, faults } = await opened({ hash: '#pieces' });
    await page.click('#play');
    expect(await soundingNote(page)).toMatch(/^bones-/);
    expect(await page.textContent('#panel')).toContain('a piece at a time');
    expect(faults).toEqual([]);
    await page.context().close();
  });
  test('plays where storage is refused', async () => {
    const refuse =
      "Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } });";
    const { page, faults } = await opened({ before: refuse });
    await page.click('.version:nth-child(3)');
    await page.click('#play');
    expect(await soundingNote(page)).toMatch(/^full-/);
    expect(faults).toEqual([]);
    await page.context().close();
  });
  test('says so where the browser begins no sound', async () => {
    const { page, faults } = await opened({
      before: 'AudioContext.prototype.resume = () => new Promise(() => undefined);',
    });
    await page.click('#play');
    await page.waitForSelector('.saying:not([hidden])');
    expect(await page.textContent('.saying')).toContain('gives no sound yet');
    expect(faults).toEqual([]);
    await page.context().close();
  });
  test('opens at the place that a link names', async () => {
    const { page } = await opened({ hash: '#full,bar2-3,loop,at60' });
    expect(await page.textContent('.where')).toBe('Bars 2 to 3, round and round');
    expect(await page.getAttribute('.version:nth-child(3)', 'aria-pressed')).toBe('true');
    expect(await page.inputValue('.tempo input')).toBe('60');
    await page.context().close();
  });
  test('shows where the notes lie and which bars are the same, in words too', async () => {
    const { page, faults } = await opened();
    await page.click('#more');
    expect(await page.isVisible('#finger-map .board')).toBe(false);
    await page.click('#finger-map summary');
    await page.click('#phrase-map summary');
    expect(await page.isVisible('#finger-map .board')).toBe(true);
    const names = await page.locator('.dot.in-tune .dot-name').allTextContents();
    expect(names.toSorted()).toEqual(['A', 'B', 'D', 'D', 'E', 'F♯', 'F♯', 'G', 'G']);
    expect(await page.locator('#finger-map li').allTextContents()).toHaveLength(3);
    expect(await page.locator('.box .number').allTextContents()).toEqual(['1', '2', '3', '4']);
    expect(await page.locator('#phrase-map ol li').first().textContent()).toContain('Bars 1 and 2');
    const { scrolls, wide } = await page.evaluate(() => ({
      scrolls:
        (document.querySelector('#panel')?.scrollWidth ?? 0) -
        (document.querySelector('#panel')?.clientWidth ?? 0),
      wide: document.documentElement.scrollWidth - innerWidth,
    }));
    expect([scrolls, wide]).toEqual([0, 0]);
    expect(faults).toEqual([]);
    await page.context().close();
  });
  test('plays ornaments slowly from the keyboard, one after the other', async () => {
    const { page, faults } = await opened({ hash: '#full,bar3' });
    const bar = page.getByRole('button', { name: 'Bar 3', exact: false });
    expect(await bar.getAttribute('aria-label')).toBe('Bar 3, cut');
    await page.focus('.bar[data-bar="0"]');
    await page.keyboard.press('o');
    expect(await page.textContent('.saying')).toContain('No ornament in pick-up to part A');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('O');
    expect(await page.textContent('.saying')).toMatch(
      /^Long roll, bar 1: slowly twice, then in its place\. /,
    );
    await page.waitForFunction(() => document.querySelector('#play')?.textContent === 'Stop');
    // The keyboard stays in its bar when another version is drawn.
    await page.keyboard.press('1');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe('Bar 1');
    expect(faults).toEqual([]);
    await page.context().close();
  });
  test('lists the ornaments of the version that is shown', async () => {
    const { page, faults } = await opened({ hash: '#full' });
    await page.click('#more');
    const names = await page
      .locator('#ornaments button')
      .evaluateAll((all) => all.map((button) => button.getAttribute('aria-label')));
    expect(names).toEqual(['Long roll, bar 1', 'Cut, bar 3', 'Treble, bar 4']);
    await page.click('#ornaments button >> nth=1');
    expect(await page.textContent('.saying')).toMatch(/^Cut, bar 3: /);
    const clear = await page.evaluate(() => {
      const of = (query: string) => document.querySelector(query)?.getBoundingClientRect();
      return (of('#panel')?.bottom ?? 1e6) <= (of('.saying')?.top ?? 0) + 1;
    });
    expect(clear).toBe(true);
    await page.keyboard.press('1');
    expect(await page.textContent('#ornaments')).toContain('This version has no ornaments.');
    expect(faults).toEqual([]);
    await page.context().close();
  });
  test.each(SIZES)(
    'leaves room for the music where letters are twice as large, at $width × $height',
    async (viewport) => {
      const { page, faults } = await opened({ hash: '#full', options: { viewport } });
      await page.addStyleTag({ content: 'html { font-size: 200% }' });
      await page.click('#more');
      await page.getByLabel('What is in each bar', { exact: true }).check();
      const seen = await page.evaluate(() => {
        for (const folded of document.querySelectorAll('#panel details')) folded.setAttribute('open', '');
        const panel = document.querySelector('#panel');
        const boxOf = (query: string) =>
          document.querySelector(query)?.getBoundingClientRect() ?? new DOMRect();
        return {
          wide: document.documentElement.scrollWidth - innerWidth,
          panelWide: (panel?.scrollWidth ?? 0) - (panel?.clientWidth ?? 0),
          hand: boxOf('.hand').height / innerHeight,
          panel: boxOf('#panel').height / innerHeight,
          more: boxOf('#more'),
          place: boxOf('.where'),
        };
      });
      expect(seen.wide).toBeLessThanOrEqual(0);
      expect(seen.panelWide).toBeLessThanOrEqual(0);
      expect(seen.hand).toBeLessThan(0.4);
      expect(seen.panel).toBeGreaterThan(0.15);
      const { more, place } = seen;
      const apart = more.left >= place.right || more.top >= place.bottom || more.bottom <= place.top;
      expect(apart).toBe(true);
      expect(faults).toEqual([]);
      await page.context().close();
    },
  );
  test('without scripts says what to do', async () => {
    const context = await browser.newContext({ javaScriptEnabled: false });
    const page = await context.newPage();
    await page.goto(url);
    expect(await page.textContent('noscript, .plain')).toContain('save the file to your device');
    await context.close();
  });
});
