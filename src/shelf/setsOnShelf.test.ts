import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { openShelf, type Shelf } from './openShelf.ts';
import { diskFiles } from './shelfFiles.ts';

let folder = '';
let shelf: Shelf;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tuneladder-sets-'));
  shelf = await openShelf({ folder, now: () => new Date('2026-11-26T10:00:00Z') });
});
afterEach(async () => {
  await shelf.close();
  await rm(folder, { recursive: true });
});

const set = (title: string): string => `{ "format": "tuneladder-set", "title": "${title}" }`;

test('a set is put there under a free name, read, saved from what it was read as, and is no lesson', async () => {
  const { sets } = shelf;
  expect(await sets.ids()).toEqual([]);
  expect(await sets.add('dusk', set('Dusk'))).toBe('dusk');
  expect(await sets.add('dusk', set('Dusk again'))).toBe('dusk-2');
  expect(await sets.ids()).toEqual(['dusk', 'dusk-2']);
  expect(shelf.size()).toBe(0);
  const now = await sets.read('dusk');
  expect(now?.text).toBe(set('Dusk'));
  const saved = await sets.save('dusk', set('Later'), now?.revision ?? '');
  expect(saved?.kind).toBe('saved');
  expect(await sets.save('dusk', set('From another window'), now?.revision ?? '')).toEqual({
    kind: 'changed',
  });
  expect((await sets.read('dusk'))?.text).toBe(set('Later'));
  expect(await sets.save('nobody', set(''), '')).toBeNull();
  for (const id of ['..', '../dusk', '', 'nobody']) expect(await sets.read(id)).toBeNull();
});

test('a deleted set comes back with its pack, beside one that has taken its name', async () => {
  const { sets } = shelf;
  await sets.add('dusk', set('Dusk'));
  await mkdir(join(sets.packOf('dusk'), 'tracks'), { recursive: true });
  await writeFile(join(sets.packOf('dusk'), 'tracks', 'a.mp3'), 'sound');
  const mark = (await sets.remove('dusk')) ?? '';
  expect(await sets.ids()).toEqual([]);
  expect(await shelf.deleted()).toMatchObject([{ kind: 'set', title: 'Dusk', mark }]);
  await sets.add('dusk', set('Another'));
  expect(await shelf.bringBack(mark)).toEqual({ kind: 'set', id: 'dusk-2' });
  expect(await readFile(join(sets.packOf('dusk-2'), 'tracks', 'a.mp3'), 'utf8')).toBe('sound');
  expect((await sets.read('dusk-2'))?.text).toBe(set('Dusk'));
  expect(await shelf.deleted()).toEqual([]);
});

test('a full disk is told, and leaves the set as it was', async () => {
  const id = await shelf.sets.add('dusk', set('Dusk'));
  const revision = (await shelf.sets.read(id))?.revision ?? '';
  await shelf.close();
  const full = Object.assign(new Error('no space'), { code: 'ENOSPC' });
  shelf = await openShelf({
    folder,
    now: () => new Date(),
    files: { ...diskFiles, write: () => Promise.reject(full) },
  });
  await expect(shelf.sets.save(id, set('Later'), revision)).rejects.toThrow(/set could not be saved/);
  expect((await shelf.sets.read(id))?.text).toBe(set('Dusk'));
  expect(await readdir(join(folder, 'sets'))).toEqual(['dusk.json']);
});
