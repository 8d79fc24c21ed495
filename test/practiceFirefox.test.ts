import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { practicePageOf } from '../bench/practiceParts/practicePage.ts';
import { FIREFOX, type FirefoxPage, openFirefox } from './firefox.ts';
import { ROOT } from './house.ts';
import { workRoom } from './program.ts';

const SIZES = [
  { width: 390, height: 844 },
  { width: 844, height: 390 },
  { width: 820, height: 1180 },
  { width: 1440, height: 900 },
] as const;

let room: Awaited<ReturnType<typeof workRoom>>;
let page: FirefoxPage;
let url = '';

beforeAll(async () => {
  room = await workRoom();
  if (!FIREFOX) return;
  const abc = await readFile(join(ROOT, 'demo/lessons/the-lantern-at-hollin-quay/tune.abc'), 'utf8');
  await writeFile(join(room.path, 'practice.html'), await practicePageOf(abc));
  url = pathToFileURL(join(room.path, 'practice.html')).href;
  await mkdir(join(room.path, 'profile'));
  page = await openFirefox(join(room.path, 'profile'));
});
afterAll(async () => {
  await page?.close();
  await room.leave();
});

const opened = async (hash: string): Promise<void> => {
  await page.open(url + hash);
  await page.until("document.querySelector('#play')?.disabled === false");
};
const textOf = (query: string): Promise<string> =>
  page.worthOf(`document.querySelector('${query}')?.textContent ?? ''`);
/** The bar of the note that is lit, once there is one, and where the cursor is. */
const sounding = async (): Promise<string> => {
  await page.until("document.querySelector('.sounding') !== null");
  return page.worthOf("document.querySelector('.sounding')?.id.split('-').slice(0, 3).join('-') ?? ''");
};
/** Bars whose notes light up while so many notes do. */
const barsLit = (notes: number): Promise<readonly string[]> =>
  page.worthOf(`new Promise((done) => {
    const seen = new Set();
    new MutationObserver((changes, observer) => {
      for (const { target } of changes) if (target.classList.contains('sounding')) seen.add(target.id);
      if (seen.size < ${notes}) return;
      observer.disconnect();
      done([...new Set([...seen].map((id) => id.split('-').slice(0, 3).join('-')))]);
    }).observe(document, { subtree: true, attributes: true, attributeFilter: ['class'] });
  })`);

describe.skipIf(!FIREFOX)('the practice page in Firefox', () => {
  test.each(SIZES)('plays from a file at $width × $height, its cursor with it', async (size) => {
    await page.resize(size);
    await opened('#bones,bar1-2,loop,at100');
    expect(await page.worthOf('document.documentElement.scrollWidth - innerWidth')).toBeLessThanOrEqual(0);
    await page.press(' ');
    expect(await sounding()).toMatch(/^bones-A-[12]$/);
    expect(await barsLit(8)).toEqual(expect.arrayContaining(['bones-A-1', 'bones-A-2']));
    expect(await textOf('.where')).toBe('Bars 1 to 2, round and round');
    await page.press('3', '-', '-');
    // Both are taken over at the next bar line.
    await page.until("document.querySelector('.sounding')?.id.startsWith('full-')");
    await page.until("document.querySelector('.tempo .value')?.textContent === '98 %'");
    await page.press(' ');
    expect(await textOf('#play')).toBe('Play');
    expect(page.faults()).toEqual([]);
  });
  test.each([
    { hash: '#full', way: 'as you listen' },
    { hash: '#full,pieces', way: 'a piece at a time' },
  ])('makes its sound $way where the address ends in $hash', async ({ hash, way }) => {
    await page.resize(SIZES[0]);
    await opened(hash);
    await page.press(' ');
    expect(await sounding()).toMatch(/^full-A-/);
    expect(await textOf('#panel')).toContain(way);
    expect(page.faults()).toEqual([]);
  });
});
