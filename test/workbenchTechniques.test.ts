import { mkdir, readFile, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { BROWSER } from '../bench/practiceParts/browser.ts';
import { violations } from './accessible.ts';
import { openShelfInBrowser, type ShelfInBrowser, tuneText } from './shelfInBrowser.ts';

// Techniques over all lessons, standing words, what was handed out, and two lessons compared, in a real browser.

const tune = (title: string, body: string): string => tuneText(title, 'reel', '4/4', 'G', body);
const LESSONS = {
  lid: tune('The Kettle Lid', '|:GABd g2d2|~G3A {a}g2d2|c2A2 G4:|'),
  'lid-again': tune('The Kettle Lid, otherwise', '|:GABd g2d2|G2BA g2d2|c2A2 G4:|'),
  hob: tune('The Warm Hob', '|:{B}A2BA c2BA|BAGB A4:|'),
};
const SETTINGS = '{"format":"tuneladder-lesson","version":1}';
const WIDTHS = [1280, 820, 390] as const;

let opened: ShelfInBrowser | null = null;
let page: Page;
let shelf = '';
beforeAll(async () => {
  opened = await openShelfInBrowser(LESSONS, SETTINGS, 4940, async (folder) => {
    // A pack of long ago, as far as it tells what was handed out.
    const pack = join(folder, 'hob', 'pack');
    await mkdir(pack);
    await writeFile(join(pack, 'tune.abc'), LESSONS.hob.replace('BAGB A4', 'BAGB AAA2'));
    await writeFile(join(pack, 'manifest.json'), '{}');
    await utimes(join(pack, 'manifest.json'), new Date('2026-01-05'), new Date('2026-01-05'));
  });
  if (opened !== null) ({ page, shelf } = opened);
});
afterAll(() => opened?.close());

const entry = (name: string) =>
  page.locator('.technique', { has: page.locator(`h2:text("${name}")`) }).first();
const accessibleAt = async (width: number): Promise<void> => {
  await page.setViewportSize({ width, height: 800 });
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    expect(await violations(page), colorScheme).toEqual([]);
  }
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  await page.emulateMedia({ colorScheme: 'light' });
  await page.setViewportSize({ width: 1280, height: 800 });
};

describe.skipIf(!BROWSER)('techniques on the workbench', () => {
  test('are listed with the lessons that have them, and the bars', async () => {
    await page.click('a:text-is("Techniques and standing words")');
    await page.waitForSelector('.handedOut li', { timeout: 60_000 });
    await page.waitForFunction(() => !document.body.textContent?.includes('Looking through'));
    const cuts = await entry('cuts').locator('ul li').allTextContents();
    expect(cuts).toEqual(['The Kettle Lid bar 2', 'The Warm Hob bar 1']);
    expect(await entry('long rolls').locator('ul li').allTextContents()).toEqual(['The Kettle Lid bar 2']);
  });

  test('what has changed since a lesson was handed out is told', async () => {
    const told = await page.textContent('.handedOut li');
    expect(told).toContain('The Warm Hob pack made 5 January');
    expect(told).toContain('Bar 2 is different now.');
  });

  test('standing words are kept in words.json, field by field, and come into the lesson', async () => {
    await entry('cuts').locator('summary').click();
    await page.getByLabel('What you say of it: cuts').fill('Flick it, never press it.');
    await page.getByLabel('A drill of one or two lines: cuts').fill('Open A.');
    await page.locator('h1').click();
    await page.waitForFunction(() => document.querySelector('.crumb [role=status]')?.textContent === 'Saved');
    const words = JSON.parse(await readFile(join(shelf, 'words.json'), 'utf8'));
    expect(words.techniques).toEqual({ cut: { words: 'Flick it, never press it.', drill: ['Open A.'] } });
    await page.getByLabel('A drill of one or two lines: cuts').fill('a\nb\nc');
    await page.locator('h1').click();
    await page.waitForSelector('[role=alert]:has-text("drill")');
    expect(JSON.parse(await readFile(join(shelf, 'words.json'), 'utf8'))).toEqual(words);
  });

  test('their file is said to be broken, and is not overwritten', async () => {
    await writeFile(join(shelf, 'words.json'), '{\n "format": 7 }');
    await page.reload();
    await page.waitForSelector('[role=alert]:has-text("words.json, line 2")');
    expect(await page.locator('.technique summary').count()).toBe(0);
    await writeFile(join(shelf, 'words.json'), '{"format":"tuneladder-words","version":1}');
    await page.reload();
    await page.waitForSelector('.technique summary');
  });

  test.each(WIDTHS)('the page is accessible and no wider than a screen of %s', accessibleAt);

  test('a bar opens in its lesson', async () => {
    await entry('long rolls').locator('a').click();
    await page.waitForSelector('.bar.looped', { timeout: 60_000 });
    expect(await page.locator('.bar.looped').getAttribute('aria-label')).toBe('Bar 2');
  });

  test('two lessons stand bar under bar, what is different marked and said', async () => {
    await page.click('text=My lessons');
    await page.click('a:text-is("Compare two lessons")');
    await page.click('button[aria-label="Take this one: The Kettle Lid"]');
    await page.click('button[aria-label="Take this one: The Kettle Lid, otherwise"]');
    await page.waitForSelector('.comparedBar', { timeout: 60_000 });
    expect(await page.locator('.comparedBar').count()).toBe(3);
    expect(await page.locator('.comparedBar.different').count()).toBe(1);
    const told = await page.textContent('.comparedBar.different');
    expect(told).toContain('in the first');
    expect(told).toContain('Only in the first: long roll on beat 1 and cut on beat 3.');
    expect(await page.locator('.comparedBar.different svg').count()).toBe(2);
    await page.getByLabel('Show only what is different').check();
    expect(await page.locator('.comparedBar').count()).toBe(1);
  });

  test.each(WIDTHS)('the comparison is accessible and no wider than a screen of %s', accessibleAt);

  test('nothing went wrong on the way', () => expect(opened?.faults).toEqual([]));
});
