import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { unzipSync } from 'fflate';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { BROWSER, openBrowser } from '../bench/practiceParts/browser.ts';
import { violations } from './accessible.ts';
import { workRoom } from './program.ts';
import { type Program, startProgram } from './workbenchProgram.ts';

// The teacher's journey in a real browser, from pasted text to the downloaded zip, on a shelf of its own.

const TUNE = `X:1
T:The Kettle <img src=x onerror=document.title='in'> Lid
C:Wren Aldercott
R:reel
M:4/4
L:1/8
K:Ador
|:eA ~A2 BAGB|A2 AB c2 Bc|dBGB dBGB|dedB GABd|
eA ~A2 BAGB|A2 AB cBcd|eage dBGB|cABG A4:|
`;
const TITLE = "The Kettle <img src=x onerror=document.title='in'> Lid";
const SIZES = [
  { width: 1280, height: 800 },
  { width: 820, height: 1180 },
  { width: 390, height: 844 },
] as const;
const PORT = 4900;

let room: Awaited<ReturnType<typeof workRoom>>;
let browser: Browser;
let shelf = '';
let program: Program;
let page: Page;
const faults: string[] = [];

const open = async (address: string): Promise<Page> => {
  const context = await browser.newContext({ viewport: SIZES[0], acceptDownloads: true });
  const opened = await context.newPage();
  opened.on('pageerror', (error) => faults.push(error.message));
  opened.on('console', (message) => {
    // A server that is killed on purpose makes the browser complain of the network.
    if (message.type() === 'error' && !/net::ERR|Failed to load resource/.test(message.text()))
      faults.push(message.text());
  });
  await opened.goto(address);
  return opened;
};

const lessonReady = async (on: Page): Promise<void> => {
  await on.waitForSelector('.line', { timeout: 90_000 });
  await on.waitForFunction(() => !document.querySelector<HTMLButtonElement>('#play')?.disabled, null, {
    timeout: 90_000,
  });
};

const saved = (on: Page): Promise<unknown> =>
  on.waitForFunction(() => document.querySelector('.safety')?.textContent === 'Saved', null, {
    timeout: 60_000,
  });

const panel = (on: Page, name: string): Promise<void> => on.click(`nav.panels button:text-is("${name}")`);

const typeInText = async (on: Page, words: string): Promise<void> => {
  await on.click('.cm-line:nth-child(2)');
  // The title is wrapped: each press goes to the end of one more line of it.
  for (let line = 0; line < 4; line += 1) await on.keyboard.press('End');
  await on.keyboard.type(words);
};

beforeAll(async () => {
  room = await workRoom();
  if (!BROWSER) return;
  shelf = join(room.path, 'lessons');
  program = await startProgram(shelf, PORT);
  browser = await openBrowser();
  page = await open(program.address);
});
afterAll(async () => {
  await browser?.close();
  await program?.stop();
  await room.leave();
});

describe.skipIf(!BROWSER)('the workbench in a browser', () => {
  test('begins with the demo lessons, finds by words and by notes, and brings a deleted lesson back', async () => {
    await page.waitForSelector('.lesson');
    expect(await page.locator('.lesson').count()).toBe(4);
    await page.fill('input[type=search]', 'slip jig');
    await page.waitForFunction(() => document.querySelectorAll('.lesson').length === 1);
    await page.fill('input[type=search]', '');
    await page.waitForFunction(() => document.querySelectorAll('.lesson').length === 4);
    const title = await page.locator('.lesson h2').first().textContent();
    await page.locator('.lesson button:text-is("Delete")').first().click();
    await page.waitForFunction(() => document.querySelectorAll('.lesson').length === 3);
    await page.click('button:text-is("Bring it back")');
    await page.waitForFunction(() => document.querySelectorAll('.lesson').length === 4);
    expect(await page.locator('.lesson h2').allTextContents()).toContain(title);
    await page.waitForSelector('details.gone', { state: 'detached' });
  });

  test('a deleted lesson is listed, and thrown away only when that is said twice', async () => {
    await page.locator('.lesson', { hasText: 'Thimbles' }).locator('button:text-is("Duplicate")').click();
    const copy = page.locator('.lesson', { hasText: '(copy)' });
    await copy.locator('button:text-is("Delete")').click();
    await page.click('summary:text-is("1 deleted lesson")');
    await page.click('details.gone button:text-is("Throw away")');
    expect(await page.locator('details.gone li').textContent()).toContain('Seven Thimbles (copy)');
    await page.click('details.gone button:text-is("Keep it")');
    expect(await violations(page)).toEqual([]);
    await page.click('details.gone button:text-is("Throw away")');
    await page.click('details.gone button:has-text("for good")');
    await page.waitForSelector('details.gone', { state: 'detached' });
    expect(await page.locator('.lesson').count()).toBe(4);
    await page.reload();
    await page.waitForSelector('.lesson');
    expect(await page.locator('details.gone').count()).toBe(0);
  });

  test('bare music becomes a tune by one click, and many tunes of a book lessons, some at a time', async () => {
    await page.click('text=New lesson');
    await page.fill('textarea', 'GABc dedB|dedB dedB|c2ec B2dB|c2A2 A2BA|');
    await page.click('button:has-text("Put a header before it")');
    await page.waitForSelector('button.do:not([disabled])');
    expect(await page.inputValue('textarea')).toMatch(/^X:1\nT:\n/);
    const book = Array.from(
      { length: 60 },
      (_, i) => `X:${i + 1}\nT:Of the book ${i + 1}\nM:4/4\nL:1/8\nK:G\nGABc dedB|d8|\n`,
    );
    await page.fill('textarea', `M:2/4\n\n${book.join('\n')}`);
    await page.fill('.findTune input', 'book 3');
    await page.waitForFunction(() => document.querySelectorAll('section.tunes li').length === 15);
    await page.fill('.findTune input', '');
    await page.click('section.tunes button:text-is("All")');
    await page.click('button.do:has-text("Make 60 lessons")');
    await page.waitForSelector('progress');
    await page.click('button:text-is("Stop here")');
    await page.waitForSelector('.lesson');
    const made = await page.locator('.lesson').count();
    expect(made).toBeGreaterThan(20);
    expect(made).toBeLessThan(64);
    for (let left = made; left > 4; left -= 1) {
      await page
        .locator('.lesson', { hasText: 'Of the book' })
        .first()
        .locator('button:text-is("Delete")')
        .click();
      await page.waitForFunction((n) => document.querySelectorAll('.lesson').length === n, left - 1);
    }
  });

  test('makes a lesson of a pasted tune, whose words stay words', async () => {
    await page.click('text=New lesson');
    await page.fill('textarea', TUNE);
    await page.getByLabel('Your name').fill('Nell of the Mill');
    await page.click('button.do:not([disabled])');
    await lessonReady(page);
    await panel(page, 'Settings');
    expect(await page.getByLabel('Your name').inputValue()).toBe('Nell of the Mill');
    await panel(page, 'Settings');
    expect(await page.textContent('h1')).toBe(TITLE);
    expect(await page.title()).toBe('Tuneladder');
    // Three staves in each of the two lines, a button for each bar.
    expect(await page.locator('.line').count()).toBe(2);
    expect(await page.locator('.bar').count()).toBe(8);
    expect(await page.locator('.shade').count()).toBeGreaterThan(5);
  });

  test('plays from the chosen bar with a cursor in all staves', async () => {
    await page.click('.bar[data-bar="4"]');
    await page.keyboard.press('Space');
    await page.waitForFunction(() => document.querySelectorAll('.sounding').length === 3, null, {
      timeout: 30_000,
    });
    expect(await page.textContent('#play')).toBe('Stop');
    await page.keyboard.press('Space');
    await page.waitForFunction(() => document.querySelector('#play')?.textContent === 'Play');
  });

  test('a bar that is chosen is selected in the text, and the caret chooses its bar', async () => {
    await page.keyboard.press('t');
    await page.waitForSelector('.cm-content');
    await page.click('.bar[data-bar="6"]');
    await page.waitForFunction(() => document.querySelectorAll('.cm-selectionBackground').length > 0);
    await page.click('.cm-line:nth-child(8)', { position: { x: 40, y: 8 } });
    await page.waitForFunction(
      () => document.querySelector('.bar[aria-pressed=true]')?.getAttribute('data-bar') === '0',
    );
  });

  test('underlines a mistake, and undo takes it and its problem back', async () => {
    const file = join(
      shelf,
      decodeURIComponent(new URL(page.url()).pathname.split('/').at(-1) ?? ''),
      'tune.abc',
    );
    const before = await readFile(file, 'utf8');
    await page.click('.cm-line:nth-child(9)');
    await page.keyboard.press('Home');
    await page.keyboard.type(')');
    await page.waitForSelector('.problems .remedy', { timeout: 30_000 });
    await page.click('.problems .remedy');
    await page.waitForFunction(() => document.querySelectorAll('.problems li').length === 0);
    await page.click('button:text-is("Undo")');
    await page.waitForSelector('.problems .remedy');
    await page.click('button:text-is("Undo")');
    await page.waitForFunction(() => document.querySelectorAll('.problems li').length === 0);
    await saved(page);
    expect(await readFile(file, 'utf8')).toBe(before);
  });

  test('a bar of the bones is replaced, heard before, and survives', async () => {
    await page.click('.bar[data-bar="2"]');
    await panel(page, 'This bar');
    await page.waitForSelector('.choices li:not(.now)');
    await page.locator('.choices li:not(.now) button:text-is("Hear it")').first().click();
    await page.waitForFunction(() => document.querySelector('#play')?.textContent === 'Stop');
    await page.click('#play');
    await page.locator('.choices li:not(.now) button:text-is("Take it")').first().click();
    await page.waitForSelector('button:text-is("Back to what is derived")', { timeout: 30_000 });
    await saved(page);
    await page.reload();
    await lessonReady(page);
    await page.click('.bar[data-bar="2"]');
    await panel(page, 'This bar');
    await page.waitForSelector('button:text-is("Back to what is derived")', { timeout: 30_000 });
  });

  test('a finger is changed at a note, an ornament accepted, words are written; all survives another key and back', async () => {
    const file = (name: string) =>
      join(shelf, decodeURIComponent(new URL(page.url()).pathname.split('/').at(-1) ?? ''), name);
    await page.click('.bar[data-bar="0"]');
    await page.locator('.note-row button').first().click();
    await page.getByLabel('Finger').selectOption('4');
    await page.waitForFunction(
      () => document.querySelector<HTMLSelectElement>('.pair select')?.value === '4',
    );
    await saved(page);
    expect(await readFile(file('tune.abc'), 'utf8')).toContain('|:!4!eA');
    await page.click('.bar[data-bar="3"]');
    await page.locator('.ornaments button:text-is("Accept")').first().click();
    await page.waitForSelector('.ornaments button:text-is("Take it out")');
    await page.getByLabel('Your own words on this bar').fill('Lift the bow here.');
    await page.click('button:text-is("Keep these words")');
    // The words go by way of the workroom: "Saved" may still be said of what came before.
    await expect
      .poll(() => readFile(file('lesson.json'), 'utf8'), { timeout: 30_000 })
      .toContain('Lift the bow here.');
    await saved(page);
    // Another way to play the bar: one that is too short is refused, the other kept and printed.
    const ways = page.locator('section.group', {
      has: page.getByRole('heading', { name: 'Other ways to play it' }),
    });
    const own = await ways.getByLabel('Its notes, in ABC').inputValue();
    await ways.getByLabel('Its notes, in ABC').fill('z');
    await ways.getByRole('button', { name: 'Keep this way' }).click();
    await page.waitForSelector('.trouble:has-text("This bar lasts")');
    await ways.getByLabel('Its notes, in ABC').fill(own.replace(/[A-Ga-g]/, 'c'));
    await ways.getByRole('button', { name: 'Keep this way' }).click();
    await ways.locator('li').waitFor();
    await ways.getByLabel('Played').first().selectOption('never');
    await expect
      .poll(() => readFile(file('lesson.json'), 'utf8'), { timeout: 30_000 })
      .toContain('"played": "never"');
    await saved(page);
    // A finger that could stay down is turned round at its place, on the sheet of its version alone.
    const finger = page.getByLabel(/^All the notes: Leave the third finger down on the A string/);
    expect(await finger.isChecked()).toBe(false);
    await finger.click();
    await expect.poll(() => finger.isChecked(), { timeout: 30_000 }).toBe(true);
    await saved(page);
    const before = JSON.parse(await readFile(file('lesson.json'), 'utf8'));
    expect(before.stayDownChoices).toMatchObject([{ version: 'plain', shown: true, anchor: { bar: 3 } }]);
    expect(before).toMatchObject({ notes: [{ words: 'Lift the bow here.' }] });
    expect(before.acceptedOrnaments).toHaveLength(1);
    await panel(page, 'Settings');
    await page.getByLabel('Keynote').selectOption('E');
    await page.click('button:text-is("Move the lesson")');
    await page.waitForFunction(() => document.querySelector('.title p')?.textContent?.includes('E Dorian'));
    await saved(page);
    const moved = JSON.parse(await readFile(file('lesson.json'), 'utf8'));
    expect(moved.keptBars).toHaveLength(1);
    expect(moved.ways).toHaveLength(1);
    expect(moved.keptBars[0].anchor.plain).not.toBe(before.keptBars[0].anchor.plain);
    await page.click('button:text-is("Undo")');
    await page.waitForFunction(() => document.querySelector('.title p')?.textContent?.includes('A Dorian'));
    await saved(page);
    expect(JSON.parse(await readFile(file('lesson.json'), 'utf8'))).toEqual(before);
  });

  test('the running order stands before the camera, one key goes on', async () => {
    await panel(page, 'Lesson text');
    await page.click('a:text-is("Before the camera")', { timeout: 60_000 });
    await page.waitForSelector('.camera h1', { timeout: 60_000 });
    const first = await page.textContent('.camera h1');
    expect(await violations(page)).toEqual([]);
    await page.keyboard.press('Space');
    expect(await page.textContent('.camera h1')).not.toBe(first);
    await page.keyboard.press('ArrowLeft');
    expect(await page.textContent('.camera h1')).toBe(first);
    await page.keyboard.press('Escape');
    await lessonReady(page);
  });

  test('what a killed server did not get is kept, and saved when it is back', async () => {
    await panel(page, 'Text');
    await page.waitForSelector('.cm-content');
    await program.kill();
    await typeInText(page, ' of Brass');
    await page.waitForSelector('.safety.waiting', { timeout: 30_000 });
    program = await startProgram(shelf, program.port);
    await page.goto(program.address);
    await page.click('.lesson h2 a:has-text("Kettle")');
    await lessonReady(page);
    await saved(page);
    expect(await page.textContent('h1')).toBe(`${TITLE} of Brass`);
  });

  test('two windows on one lesson put their changes together', async () => {
    const other = await page.context().newPage();
    await other.goto(page.url());
    await lessonReady(other);
    await panel(other, 'Lesson text');
    await other.getByLabel('Learnt from').fill('the other window');
    await saved(other);
    await panel(page, 'Text');
    await page.waitForFunction(() =>
      document.querySelector('.cm-content')?.textContent?.includes('S:the other window'),
    );
    await typeInText(page, '!');
    await saved(page);
    await other.waitForFunction(() => document.querySelector('h1')?.textContent?.endsWith('of Brass!'));
    await other.close();
  });

  test('the pack is made with progress, opened in its place, and downloaded', async () => {
    await panel(page, 'Settings');
    await page.getByLabel('Letter (US)').uncheck();
    await saved(page);
    await panel(page, 'Pack');
    await page.waitForSelector('.parts');
    // Tracks take their time; the journey needs one.
    const tracks = page.locator('section.group:has(h3:text-is("Tracks")) li input');
    for (const track of await tracks.all()) await track.uncheck();
    await tracks.first().check();
    await page.click('.pack button.do:not([disabled])');
    await page.waitForSelector('.progress progress', { timeout: 30_000 });
    await page.waitForFunction(
      () => document.querySelector('.pack [role=status]')?.textContent?.startsWith('The pack is ready'),
      null,
      { timeout: 200_000 },
    );
    await page.locator('.parts button:text-is("Open")').first().click();
    await page.waitForSelector('section.opened iframe');
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.click('a:text-is("Everything as one zip")'),
    ]);
    const zip = unzipSync(await readFile(await download.path()));
    expect(Object.keys(zip)).toEqual(expect.arrayContaining(['practice.html', 'tune.abc', 'manifest.json']));
    expect(Object.keys(zip).filter((name) => name.endsWith('.mp3'))).toHaveLength(1);
  });

  test.each(SIZES)('every page is accessible and no wider than a screen of $width', async (size) => {
    await page.setViewportSize(size);
    for (const name of ['This bar', 'Text', 'Settings', 'Lesson text', 'Pack', 'Earlier', 'Keys']) {
      await page.keyboard.press('Escape');
      await panel(page, name);
      await page.waitForTimeout(400);
      expect(await violations(page), name).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(size.width);
    }
    for (const path of ['/', '/new']) {
      await page.goto(new URL(path, page.url()).href);
      await page.waitForSelector('h1');
      expect(await violations(page), path).toEqual([]);
    }
    await page.goBack();
    await page.goBack();
    await lessonReady(page);
  });

  test('a broken lesson shows what can be saved', async () => {
    await mkdir(join(shelf, 'torn'));
    await writeFile(join(shelf, 'torn', 'tune.abc'), TUNE.replace(/T:.*/, 'T:Torn'));
    await writeFile(join(shelf, 'torn', 'lesson.json'), '{"format": ');
    await page.goto(new URL('/', page.url()).href);
    await page.waitForSelector('.lesson .trouble', { timeout: 30_000 });
    await page.click('.lesson:has(.trouble) h2 a');
    await page.waitForSelector('textarea');
    expect(await page.inputValue('textarea >> nth=0')).toContain('T:Torn');
    expect(await readFile(join(shelf, 'torn', 'lesson.json'), 'utf8')).toBe('{"format": ');
  });

  test('nothing went wrong on the way', () => {
    expect(faults).toEqual([]);
  });
});
