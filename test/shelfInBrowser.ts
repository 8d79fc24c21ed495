import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { BROWSER, openBrowser } from '../bench/practiceParts/browser.ts';
import { workRoom } from './program.ts';
import { type Program, startProgram } from './workbenchProgram.ts';

/** A shelf of lessons, open on the workbench in a browser of its own. */
export interface ShelfInBrowser {
  /** The folder that the shelf lies in, for whatever else a test writes. */
  readonly room: string;
  readonly shelf: string;
  readonly browser: Browser;
  readonly page: Page;
  /** What the page complained of. */
  readonly faults: readonly string[];
  readonly close: () => Promise<void>;
}

/** A tune of few bars as text. */
export const tuneText = (title: string, rhythm: string, metre: string, key: string, body: string): string =>
  `X:1\nT:${title}\nR:${rhythm}\nM:${metre}\nL:1/8\nK:${key}\n${body}\n`;

/**
 * Opens a shelf; null where there is no browser.
 * @param lessons - tunes by the names of their folders; each has the settings
 * @param before - what else is put on the shelf before it is opened
 */
export const openShelfInBrowser = async (
  lessons: Readonly<Record<string, string>>,
  settings: string,
  port: number,
  before: (shelf: string) => Promise<void> = async () => undefined,
): Promise<ShelfInBrowser | null> => {
  if (!BROWSER) return null;
  const room = await workRoom();
  const shelf = join(room.path, 'lessons');
  for (const [name, abc] of Object.entries(lessons)) {
    await mkdir(join(shelf, name), { recursive: true });
    await writeFile(join(shelf, name, 'tune.abc'), abc);
    await writeFile(join(shelf, name, 'lesson.json'), settings);
  }
  await before(shelf);
  const program: Program = await startProgram(shelf, port);
  const browser = await openBrowser();
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, acceptDownloads: true });
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error' && !/Failed to load resource/.test(message.text()))
      faults.push(message.text());
  });
  await page.goto(program.address);
  return {
    room: room.path,
    shelf,
    browser,
    page,
    faults,
    close: async () => {
      await browser.close();
      await program.stop();
      await room.leave();
    },
  };
};
