import { mkdir, mkdtemp, readdir, readFile, rename, rm, symlink, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openShelf, type Shelf, type ShelfNews } from './openShelf.ts';
import { diskFiles } from './shelfFiles.ts';
import { failingFiles } from './testing/failingFiles.ts';

const tune = (title: string, notes = 'GABd edBd|'): string =>
  `X:1\nT:${title}\nR:reel\nM:4/4\nL:1/8\nK:G\n${notes}\n`;
const SETTINGS = '{ "format": "tuneladder-lesson", "version": 1 }\n';

let room = '';
let folder = '';
let shelves: Shelf[] = [];
const open = async (options: Partial<Parameters<typeof openShelf>[0]> = {}): Promise<Shelf> => {
  const shelf = await openShelf({ folder, now: () => new Date(), ...options });
  shelves.push(shelf);
  return shelf;
};
const add = async (id: string, abc: string): Promise<void> => {
  await mkdir(join(folder, id), { recursive: true });
  await writeFile(join(folder, id, 'tune.abc'), abc);
  await writeFile(join(folder, id, 'lesson.json'), SETTINGS);
};
/** Waits until something holds, twenty seconds at most. */
const until = async (holds: () => boolean): Promise<void> => {
  for (let i = 0; i < 800 && !holds(); i += 1) await new Promise((resolve) => setTimeout(resolve, 25));
  expect(holds()).toBe(true);
};
const titles = (shelf: Shelf, words = ''): readonly string[] =>
  shelf.search(words).map(({ facts }) => facts.title);

beforeEach(async () => {
  room = await mkdtemp(join(tmpdir(), 'tuneladder-shelf-'));
  folder = join(room, 'shelf');
  await mkdir(folder);
  shelves = [];
});
afterEach(async () => {
  for (const shelf of shelves) await shelf.close();
  await rm(room, { recursive: true, force: true });
});

describe('opening', () => {
  test('a missing or empty folder begins with the demo lessons, another is left as it is', async () => {
    const demo = join(room, 'demo');
    await mkdir(join(demo, 'one'), { recursive: true });
    await writeFile(join(demo, 'one', 'tune.abc'), tune('One'));
    await rm(folder, { recursive: true });
    const shelf = await open({ demo });
    expect(titles(shelf)).toEqual(['One']);
    await shelf.close();
    await rm(folder, { recursive: true });
    await add('mine', tune('Mine'));
    expect(titles(await open({ demo }))).toEqual(['Mine']);
  });
  test('what is no lesson is left alone: files, hidden folders, folders without a tune, links', async () => {
    await add('mine', tune('Mine'));
    await writeFile(join(folder, 'notes.txt'), 'mine');
    await mkdir(join(folder, 'photos'));
    await add('.hidden', tune('Hidden'));
    await add('../outside', tune('Outside'));
    await symlink(join(room, 'outside'), join(folder, 'link'));
    const shelf = await open();
    expect(titles(shelf)).toEqual(['Mine']);
    for (const id of ['.hidden', 'photos', 'link', '../outside', '..', '.', '', 'mine/../mine', 'notes.txt'])
      expect(await shelf.read(id)).toBeNull();
  });
  test('a tune that is a link out of the shelf is not read', async () => {
    await add('mine', tune('Mine'));
    await writeFile(join(room, 'secret'), tune('Secret'));
    await rm(join(folder, 'mine', 'tune.abc'));
    await symlink(join(room, 'secret'), join(folder, 'mine', 'tune.abc'));
    const lesson = await (await open()).read('mine');
    expect(lesson).toMatchObject({
      texts: { abc: '' },
      problems: ['tune.abc is no file but a link or a folder.'],
    });
  });
  test('a folder that cannot be made is told in words', async () => {
    await writeFile(join(room, 'file'), '');
    await expect(open({ folder: join(room, 'file', 'shelf') })).rejects.toThrow(
      /^the folder of lessons .* cannot be opened: /,
    );
  });
});

describe('the index', () => {
  test('is taken over where the files are as they were, and made anew where not, or where it is damaged', async () => {
    await add('one', tune('One'));
    await add('two', tune('Two'));
    const first = await open();
    await first.completed();
    expect(first.get('one')?.facts).toMatchObject({
      key: 'G major',
      dance: 'reel',
      difficulty: expect.stringMatching(/./),
    });
    await first.close();
    const cache = join(folder, '.index.json');
    const kept = JSON.parse(await readFile(cache, 'utf8'));
    kept.lessons.one.facts.title = 'One, from the cache';
    kept.lessons.two.facts.title = 'Two, from the cache';
    await writeFile(cache, JSON.stringify(kept));
    await writeFile(join(folder, 'two', 'tune.abc'), tune('Two, changed since'));
    const second = await open();
    expect([...titles(second)].sort()).toEqual(['One, from the cache', 'Two, changed since']);
    await second.close();
    for (const damage of [
      '',
      '{',
      '[]',
      '{"version":99,"lessons":{}}',
      '{"version":1,"lessons":{"one":7}}',
    ]) {
      await writeFile(cache, damage);
      const shelf = await open();
      await shelf.completed();
      expect([...titles(shelf)].sort()).toEqual(['One', 'Two, changed since']);
      await shelf.close();
    }
  });
  test('a shelf that cannot be written can be read', async () => {
    await add('one', tune('One'));
    const files = failingFiles();
    files.plan({ kind: 'fails', at: 2, code: 'EROFS' });
    const shelf = await open({ files });
    await shelf.completed();
    expect(titles(shelf)).toEqual(['One']);
  });
  test('a broken lesson is listed with the reason', async () => {
    await add('whole', tune('Whole'));
    await add('broken', tune('Broken'));
    await writeFile(join(folder, 'broken', 'lesson.json'), '{');
    await add('empty', 'nothing');
    const shelf = await open();
    await shelf.completed();
    expect(shelf.get('whole')?.facts.broken).toBeNull();
    expect(shelf.get('broken')?.facts).toMatchObject({
      title: 'Broken',
      broken: expect.stringContaining('lesson.json'),
    });
    expect(shelf.get('empty')?.facts).toMatchObject({
      title: 'empty',
      broken: expect.stringContaining('no tune'),
    });
  });
});

describe('an edit outside', () => {
  test.each([
    ['is told at once where the system tells of it', diskFiles, 'beside'],
    ['is found where the system does not tell', failingFiles(), 'in place'],
  ])('%s', async (_, files, written) => {
    await add('one', tune('One'));
    const shelf = await open({ files });
    const news: ShelfNews[] = [];
    shelf.onNews((told) => news.push(told));
    const before = await shelf.read('one');
    // An editor that writes beside and renames, or one that writes in place.
    if (written === 'beside') {
      await writeFile(join(folder, 'one', 'tune.abc.new'), tune('One, edited'));
      await rename(join(folder, 'one', 'tune.abc.new'), join(folder, 'one', 'tune.abc'));
    } else await writeFile(join(folder, 'one', 'tune.abc'), tune('One, edited'));
    await until(() => news.some(({ kind }) => kind === 'lesson'));
    const now = await shelf.read('one');
    expect(news.find(({ kind }) => kind === 'lesson')).toEqual({
      kind: 'lesson',
      id: 'one',
      revision: now?.revision,
    });
    expect(now?.revision).not.toBe(before?.revision);
    await until(() => titles(shelf)[0] === 'One, edited');
  });
  test.each([
    ['told', diskFiles],
    ['found', failingFiles()],
  ])('a new folder appears, one that is gone disappears: %s', async (_, files) => {
    await add('one', tune('One'));
    const shelf = await open({ files });
    await add('two', tune('Two'));
    await until(() => shelf.size() === 2);
    await rm(join(folder, 'one'), { recursive: true });
    await until(() => shelf.size() === 1 && shelf.get('one') === null);
  });
  test('a file that was only touched is no news', async () => {
    await add('one', tune('One'));
    const shelf = await open();
    await shelf.read('one');
    const news: ShelfNews[] = [];
    shelf.onNews((told) => news.push(told));
    await utimes(join(folder, 'one', 'tune.abc'), new Date(), new Date(Date.now() - 5000));
    await until(() => news.length > 0);
    expect(news.filter(({ kind }) => kind === 'lesson')).toEqual([]);
  });
});

test('of many saves at once from one state, one is saved and the others are told', async () => {
  await add('one', tune('One'));
  const shelf = await open();
  const base = (await shelf.read('one'))?.revision ?? '';
  const answers = await Promise.all(
    Array.from({ length: 12 }, (_, n) =>
      shelf.save('one', { abc: tune(`One ${n}`), settings: SETTINGS }, { base }),
    ),
  );
  expect(answers.filter((answer) => answer?.kind === 'saved')).toHaveLength(1);
  expect(answers.filter((answer) => answer?.kind === 'changed')).toHaveLength(11);
});

describe('new lessons', () => {
  const BOOK = `%abc-2.1\nO:Hollin Quay\n\n${tune('Twice')}\n${tune('Twice', 'dBAB GABd|')}\n${tune('Empty', '')}`;
  test('each gets its own tune with the header of the book, and a name of its own', async () => {
    const shelf = await open();
    expect(await shelf.make({ abc: BOOK, tunes: [1, 0], teacher: '' })).toEqual({
      kind: 'made',
      ids: ['twice', 'twice-2'],
    });
    expect((await shelf.read('twice'))?.texts.abc).toBe(
      `%abc-2.1\nO:Hollin Quay\n\n${tune('Twice', 'dBAB GABd|')}`,
    );
    expect((await shelf.read('twice-2'))?.problems).toEqual([]);
  });
  test('bear the name of the teacher who makes them', async () => {
    const shelf = await open();
    await shelf.make({ abc: BOOK, tunes: [0], teacher: ' Nell "Bow" Hathersage ' });
    const settings = (await shelf.read('twice'))?.texts.settings ?? '';
    expect(JSON.parse(settings)).toMatchObject({ teacher: 'Nell "Bow" Hathersage' });
    await shelf.make({ abc: BOOK, tunes: [1], teacher: ' ' });
    expect((await shelf.read('twice-2'))?.texts.settings).not.toContain('teacher');
  });
  test('of a tune without notes, or of none, there is none at all', async () => {
    const shelf = await open();
    expect(await shelf.make({ abc: BOOK, tunes: [0, 2], teacher: '' })).toEqual({
      kind: 'problem',
      message: '"Empty" has no notes, so it cannot be a lesson.',
    });
    expect(await shelf.make({ abc: BOOK, tunes: [0, 7], teacher: '' })).toMatchObject({ kind: 'problem' });
    expect(shelf.size()).toBe(0);
  });
  test('that cannot be put on the shelf leave nothing behind', async () => {
    const files = failingFiles();
    const shelf = await open({ files });
    for (let at = 1; at <= 6; at += 1) {
      files.plan({ kind: 'fails', at, code: 'ENOSPC' });
      await shelf
        .make({ abc: BOOK, tunes: [0], teacher: '' })
        .catch((error: unknown) => expect(String(error)).toMatch(/disk is full/));
      expect((await readdir(folder)).filter((name) => name.startsWith('.making'))).toEqual([]);
    }
  });
});

describe('a title', () => {
  test.each([
    ['Plain', 'T:Plain'],
    ['100% & more', 'T:100\\% \\& more'],
    ["$& $1 $'", "T:$\\& $1 $'"],
    ['two\nlines', 'T:two lines'],
  ])('"%s" becomes the first line of titles', async (title, line) => {
    await add('one', tune('One').replace('T:One', 'T:One\nT:Another'));
    const shelf = await open();
    expect(await shelf.retitle('one', title)).toBe(true);
    const abc = (await shelf.read('one'))?.texts.abc ?? '';
    expect(abc.split('\n').slice(1, 3)).toEqual([line, 'T:Another']);
    // At once, by the tune's first lines, and when all is known of it.
    const known = shelf.get('one')?.facts;
    await shelf.completed();
    for (const facts of [known, shelf.get('one')?.facts])
      expect(facts).toMatchObject({ title: title.replace('\n', ' '), otherTitles: ['Another'] });
  });
  test('is put behind the number where there is none, and lines keep their ends', async () => {
    await add('one', 'X:1\r\nK:G\r\nGABd|\r\n');
    const shelf = await open();
    expect(await shelf.retitle('one', 'Found')).toBe(true);
    expect((await shelf.read('one'))?.texts.abc).toBe('X:1\r\nT:Found\r\nK:G\r\nGABd|\r\n');
  });
});

test('a deleted lesson comes back with all that is in its folder, under a free name', async () => {
  await add('one', tune('One'));
  await mkdir(join(folder, 'one', 'recordings'));
  await writeFile(join(folder, 'one', 'recordings', 'a.wav'), 'sound');
  const shelf = await open();
  const mark = (await shelf.remove('one')) ?? '';
  expect(shelf.size()).toBe(0);
  await add('one', tune('Another one'));
  expect(await shelf.bringBack(mark)).toEqual({ kind: 'lesson', id: 'one-2' });
  expect(await readFile(join(folder, 'one-2', 'recordings', 'a.wav'), 'utf8')).toBe('sound');
  expect(await shelf.bringBack(mark)).toBeNull();
  expect(await shelf.bringBack('..')).toBeNull();
  expect(await shelf.remove('nobody')).toBeNull();
});

test('deleted lessons are listed, the last deleted first, and thrown away for good one by one', async () => {
  for (const name of ['one', 'two']) await add(name, tune(name === 'one' ? 'One' : ''));
  let now = new Date('2026-11-26T10:00:00Z');
  const shelf = await open({ now: () => now });
  expect(await shelf.deleted()).toEqual([]);
  const one = (await shelf.remove('one')) ?? '';
  now = new Date('2026-11-26T11:00:00Z');
  await shelf.remove('two');
  await mkdir(join(folder, '.deleted', 'not ours'));
  expect((await shelf.deleted()).map(({ title, when }) => [title, when.getUTCHours()])).toEqual([
    ['two', 11],
    ['One', 10],
  ]);
  for (const mark of ['..', 'not ours', '', `${one}/tune.abc`])
    expect(await shelf.throwAway(mark)).toBe(false);
  expect(await shelf.throwAway(one)).toBe(true);
  expect(await shelf.throwAway(one)).toBe(false);
  expect(await shelf.bringBack(one)).toBeNull();
  expect((await shelf.deleted()).map(({ title }) => title)).toEqual(['two']);
  expect(await readdir(join(folder, '.deleted'))).toContain('not ours');
});

test('a copy has the texts, another title, the recordings, and no pack', async () => {
  await add('one', tune('One'));
  for (const name of ['recordings', 'pack']) {
    await mkdir(join(folder, 'one', name));
    await writeFile(join(folder, 'one', name, 'a'), name);
  }
  const shelf = await open();
  expect(await shelf.copy('one')).toBe('one-copy');
  expect((await shelf.read('one-copy'))?.texts.abc).toBe(tune('One (copy)'));
  expect((await readdir(join(folder, 'one-copy'))).sort()).toEqual(['lesson.json', 'recordings', 'tune.abc']);
});
