import { readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { unzipSync } from 'fflate';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { BROWSER } from '../bench/practiceParts/browser.ts';
import { violations } from './accessible.ts';
import { openShelfInBrowser, type ShelfInBrowser, tuneText } from './shelfInBrowser.ts';

// Sets on the workbench in a real browser: made of lessons, changed, heard, packed, deleted and brought back.

const LESSONS = {
  lid: tuneText('The Kettle Lid', 'reel', '4/4', 'G', '|:"G"GABd g2d2|"D"c2A2 "G"G4:|'),
  spout: tuneText('The <b>Spout</b>', 'jig', '6/8', 'D', '|:A|"D"d2f a2f|"A"e2c "D"d2:|'),
  hob: tuneText('The Warm Hob', 'reel', '4/4', 'Ador', '|:"Am"A2BA c2BA|"G"BAGB "Am"A4:|'),
};
const SETTINGS = '{"format":"tuneladder-lesson","version":1,"papers":["A4"],"formats":["wav"]}';
const WIDTHS = [1280, 820, 390] as const;

let opened: ShelfInBrowser | null = null;
let browser: Browser;
let page: Page;
let shelf = '';
beforeAll(async () => {
  opened = await openShelfInBrowser(LESSONS, SETTINGS, 4920);
  if (opened !== null) ({ browser, page, shelf } = opened);
});
afterAll(() => opened?.close());

const stored = async (): Promise<{
  title?: string;
  tunes: { lesson: string; times?: number; turn?: string }[];
}> => JSON.parse(await readFile(join(shelf, 'sets', 'set-the-kettle-lid.json'), 'utf8'));
const saved = (): Promise<unknown> =>
  page.waitForFunction(() => document.querySelector('.crumb [role=status]')?.textContent === 'Saved');

describe.skipIf(!BROWSER)('sets on the workbench', () => {
  test('are made of lessons that are found and put in order', async () => {
    await page.waitForSelector('.sets');
    expect(await page.textContent('.sets')).toContain('No set yet.');
    await page.click('a:text-is("New set")');
    await page.click('button[aria-label="Add: The Warm Hob"]');
    expect(await page.isDisabled('button:text-is("Make the set")')).toBe(true);
    await page.fill('.finder input', 'lid');
    await page.waitForFunction(() => document.querySelectorAll('.finder li').length === 1);
    await page.click('.finder li button');
    await page.click('button[aria-label="Earlier: The Kettle Lid"]');
    expect(await page.locator('.inOrder b').allTextContents()).toEqual(['The Kettle Lid', 'The Warm Hob']);
    await page.click('button:text-is("Make the set")');
    await page.waitForSelector('.corner .pictures svg', { timeout: 60_000 });
    expect(await page.textContent('h1')).toBe('The Kettle Lid · The Warm Hob');
    expect((await stored()).tunes).toEqual([{ lesson: 'lid' }, { lesson: 'hob' }]);
  });

  test('every change is saved, shows in the corner, and can be undone', async () => {
    const corner = page.locator('.corner').first();
    expect(await corner.textContent()).toContain('The Warm Hob has no pick-up');
    await page.locator('.tune select').first().selectOption('3');
    await page.getByLabel('Chord that turns the corner').fill('E7');
    await page.getByLabel('What the set is called').fill('After Tea');
    await saved();
    expect(await corner.textContent()).toContain('E7 leads to Am');
    await page.click('summary:text-is("Add a tune")');
    await page.click('button[aria-label^="Add: The <b>Spout"]');
    await page.waitForFunction(() => document.querySelectorAll('.corner').length === 2);
    await saved();
    expect(await stored()).toMatchObject({
      title: 'After Tea',
      tunes: [{ lesson: 'lid', times: 3, turn: 'E7' }, { lesson: 'hob' }, { lesson: 'spout' }],
    });
    await page.click('button:text-is("Undo")');
    await page.waitForFunction(() => document.querySelectorAll('.tune').length === 2);
    await saved();
    expect((await stored()).tunes).toHaveLength(2);
    await page.click('button:text-is("Redo")');
    await page.waitForFunction(() => document.querySelectorAll('.tune').length === 3);
    await saved();
  });

  test('a chord that is none is said, and mended in its place', async () => {
    const field = page.getByLabel('Chord that turns the corner').first();
    await field.fill('banana');
    await field.blur();
    await page.waitForSelector('[role=alert]:has-text("“banana” after tune 1 is no chord")');
    expect(await page.isDisabled('button:text-is("Make the pack")')).toBe(true);
    await field.fill('E7');
    await field.blur();
    await page.waitForSelector('.corner .pictures svg', { timeout: 60_000 });
    await saved();
    expect(await page.locator('[role=alert]').count()).toBe(0);
  });

  test('a corner is heard', async () => {
    await page.locator('button:text-is("Hear the corner")').first().click();
    await page.waitForFunction(() => (document.querySelector('audio')?.duration ?? 0) > 3, null, {
      timeout: 60_000,
    });
    expect(await page.evaluate(() => document.querySelector('audio')?.error ?? null)).toBeNull();
  });

  test.each(WIDTHS)('pages are accessible and no wider than a screen of %s', async (width) => {
    await page.setViewportSize({ width, height: 800 });
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      expect(await violations(page), colorScheme).toEqual([]);
    }
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(wide).toBeLessThanOrEqual(width);
    await page.emulateMedia({ colorScheme: 'light' });
    await page.setViewportSize({ width: 1280, height: 800 });
  });

  test('its pack is made, opened in its place, and downloaded; the practice page goes from tune to tune', async () => {
    await page.click('button:text-is("Make the pack")');
    await page.waitForSelector('.progress progress');
    await page.waitForSelector('.pack .parts li', { timeout: 120_000 });
    expect(await page.textContent('.pack')).toContain('as the set and its lessons are now');
    await page.locator('.parts li', { hasText: 'in words' }).locator('button').click();
    await page.waitForSelector('section.opened iframe');
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.click('a:text-is("Everything as one zip")'),
    ]);
    const zip = unzipSync(await readFile(await download.path()));
    expect(Object.keys(zip)).toEqual(
      expect.arrayContaining(['practice.html', 'set.txt', 'sheets/after-tea-a4.pdf']),
    );
    const path = join(opened?.room ?? '', 'practice.html');
    await writeFile(path, zip['practice.html'] ?? '');
    const learner = await (await browser.newContext({ viewport: { width: 390, height: 844 } })).newPage();
    const wrong: string[] = [];
    learner.on('pageerror', (error) => wrong.push(error.message));
    learner.on('request', (request) => {
      if (!/^(?:file|data):/.test(request.url())) wrong.push(request.url());
    });
    await learner.goto(pathToFileURL(path).href);
    await learner.waitForSelector('.set nav');
    expect(await learner.textContent('.set h2')).toBe('The Kettle Lid');
    await learner.click('a[href="#tune3"]');
    await learner.waitForFunction(
      () => document.querySelector('.set h2')?.textContent === 'The <b>Spout</b>',
    );
    await learner.waitForFunction(
      () => document.querySelectorAll('.music .bar, .music [data-bar]').length > 0,
    );
    expect(await learner.locator('.set a[aria-current]').textContent()).toBe('The <b>Spout</b>');
    expect(await violations(learner)).toEqual([]);
    await learner.reload();
    expect(await learner.textContent('.set h2')).toBe('The <b>Spout</b>');
    expect(wrong).toEqual([]);
    await learner.context().close();
  });

  test('a change elsewhere is not overwritten, a lesson that is gone is said, the pack is out of date', async () => {
    const file = join(shelf, 'sets', 'set-the-kettle-lid.json');
    const now = await stored();
    await writeFile(file, JSON.stringify({ ...now, title: 'From elsewhere' }));
    await page.getByLabel('What the set is called').fill('From here');
    await page.waitForFunction(() => document.querySelector('h1')?.textContent === 'From elsewhere');
    expect((await stored()).title).toBe('From elsewhere');
    expect(await page.inputValue('input[type=text]')).toBe('From elsewhere');
    expect(await page.textContent('.pack')).toContain('has changed since the pack was made');
    await rm(join(shelf, 'spout'), { recursive: true });
    await page.waitForSelector('[role=alert]:has-text("not on the shelf any more")', { timeout: 60_000 });
    expect(await page.isDisabled('button:text-is("Make it anew")')).toBe(true);
  });

  test('a deleted set is brought back from "My lessons"', async () => {
    await page.click('button:text-is("Delete the set")');
    await page.click('summary:text-is("1 deleted set")');
    expect(await page.textContent('.sets')).toContain('No set yet.');
    await page.click('details.gone button:text-is("Bring it back")');
    await page.waitForSelector('.sets li');
    expect(await page.textContent('.sets li')).toContain('From elsewhere');
    expect(await violations(page)).toEqual([]);
  });

  test('nothing went wrong on the way', () => expect(opened?.faults).toEqual([]));
});
