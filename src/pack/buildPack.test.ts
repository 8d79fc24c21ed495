import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { unzipSync } from 'fflate';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { DEFAULT_SETTINGS, type LessonSettings, lessonOf } from '../lesson/index.ts';
import { readAbc } from '../notation/index.ts';
import type { BuildOptions } from './buildFolder.ts';
import { buildPack } from './buildPack.ts';
import { inspectPack } from './filesOnDisk.ts';
import { zipForAudience } from './parcel.ts';
import { partsOf } from './parts.ts';
import { sourceOf } from './source.ts';

const TUNE = 'X:1\nT:Tin Thimble\nR:reel\nM:4/4\nL:1/8\nK:G\nGABc dedB|dedB dedB|\n';

// Writes the story and the part's name into every file; fails and hangs where the story says so.
const WORKER = new URL(
  `data:text/javascript,${encodeURIComponent(`
    import { parentPort, workerData } from 'node:worker_threads';
    const { story } = workerData.settings;
    parentPort.on('message', (job) => {
      if (story === 'fail') return parentPort.postMessage({ kind: 'failed', why: 'no rosin' });
      if (story === 'hang') return parentPort.postMessage({ kind: 'alive', fraction: 0.5 });
      const bytes = new TextEncoder().encode(job.id + ' ' + story);
      parentPort.postMessage({ kind: 'done', files: job.paths.map((path) => ({ path, bytes })) });
    });`)}`,
);

const packOf = (changes: Partial<LessonSettings> = {}) => {
  const [tune] = readAbc(TUNE).tunes;
  if (tune === undefined) throw new Error('no tune');
  const settings: LessonSettings = { ...DEFAULT_SETTINGS, date: '2026-01-31', papers: ['A4'], ...changes };
  return { lesson: lessonOf(tune.score, settings), source: sourceOf(TUNE, tune, settings, 'default') };
};

let room: string;
beforeEach(async () => {
  room = await mkdtemp(join(tmpdir(), 'tuneladder-parts-'));
});
afterEach(() => rm(room, { recursive: true, force: true }));

const at = (path: string): string => join(room, 'pack', path);
const read = (path: string): Promise<string> => readFile(at(path), 'utf8');

const build = ({ lesson, source }: ReturnType<typeof packOf>, options: Partial<BuildOptions> = {}) =>
  buildPack(lesson, source, {
    out: join(room, 'pack'),
    signal: new AbortController().signal,
    onProgress: () => undefined,
    workerUrl: WORKER,
    threads: 1,
    ...options,
  });

/** Every file of the pack folder with its content, the zip apart. */
const content = async (): Promise<ReadonlyMap<string, string>> => {
  const found = await readdir(join(room, 'pack'), { recursive: true, withFileTypes: true });
  const files = found.filter((f) => f.isFile() && !f.name.endsWith('.zip'));
  return new Map(
    await Promise.all(
      files.map(async (f) => [f.name, await readFile(join(f.parentPath, f.name), 'utf8')] as const),
    ),
  );
};

test('a build of some parts makes these, keeps all others, and the zip has them all', async () => {
  await build(packOf({ story: 'one' }));
  const before = await content();
  await writeFile(at('my own.txt'), 'mine');
  const result = await build(packOf({ story: 'two' }), { only: ['text/notes', 'text/description'] });
  if (result.kind !== 'built') throw new Error(result.kind);
  expect(await read('notes.html')).toBe('text/notes two');
  expect(await read('description.txt')).toBe('text/description two');
  expect(await read('my own.txt')).toBe('mine');
  const after = await content();
  for (const [name, was] of before)
    if (!['notes.html', 'description.txt', 'manifest.json'].includes(name)) expect(after.get(name)).toBe(was);
  const zip = unzipSync(new Uint8Array(await readFile(at(result.zip))));
  const listed = result.manifest.files.map(({ path }) => path);
  expect(Object.keys(zip).sort()).toEqual([...listed, 'manifest.json'].sort());
  expect(listed.length).toBe(before.size - 1);
  expect(new TextDecoder().decode(zip['notes.html'])).toBe('text/notes two');
});

test('what was built is current, what was not stays out of date', async () => {
  await build(packOf({ story: 'one' }));
  const changed = packOf({ story: 'two' });
  const stateOf = async (id: string) => {
    const former = await inspectPack(join(room, 'pack'));
    const parts = partsOf(changed.lesson, changed.source, former?.manifest ?? null, former?.disk);
    return parts.find((part) => part.id === id)?.state;
  };
  expect(await stateOf('text/notes')).toBe('outOfDate');
  await build(changed, { only: ['text/notes'] });
  expect(await stateOf('text/notes')).toBe('current');
  expect(await stateOf('text/description')).toBe('outOfDate');
  expect(await stateOf('sheet/bones/a4')).toBe('current');
  await writeFile(at('notes.html'), 'by hand');
  await rm(at('tune.abc'));
  expect(await stateOf('text/notes')).toBe('changedByHand');
  expect(await stateOf('text/abc')).toBe('missing');
});

test('a file that was changed by hand stays when others are built, and is still known as changed', async () => {
  await build(packOf({ story: 'one' }));
  await writeFile(at('description.txt'), 'by hand');
  await build(packOf({ story: 'two' }), { only: ['text/notes'] });
  expect(await read('description.txt')).toBe('by hand');
  expect((await inspectPack(join(room, 'pack')))?.disk.changed).toEqual(new Set(['description.txt']));
  await build(packOf({ story: 'two' }));
  expect(await read('description (kept).txt')).toBe('by hand');
});

test('what belongs to no part any more stays with some parts, and goes when it is asked to', async () => {
  await build(packOf({ papers: ['A4', 'Letter'] }));
  const letters = async () => (await readdir(at('sheets'))).filter((name) => name.includes('letter')).length;
  const all = await letters();
  await build(packOf(), { only: ['text/notes'] });
  expect(await letters()).toBe(all);
  await build(packOf(), { only: [], leftovers: 'go' });
  expect(await letters()).toBe(0);
  expect(await read('notes.html')).toMatch(/^text\/notes/);
});

test.each([
  ['all of them fail', 'fail', 'nothing'],
  ['somebody stops it', 'hang', 'AbortError'],
])('the earlier pack stays whole when %s', async (_, story, kind) => {
  await build(packOf({ story: 'one' }));
  const before = await content();
  const stop = new AbortController();
  const ended = await build(packOf({ story }), {
    only: ['text/notes', 'text/description'],
    signal: stop.signal,
    onProgress: () => {
      if (story === 'hang') stop.abort();
    },
  }).catch((error: Error) => ({ kind: error.name }));
  expect(ended.kind).toBe(kind);
  expect(await content()).toEqual(before);
  expect(await readdir(room)).toEqual(['pack']);
});

test('a part that the lesson has no more is refused in words', async () => {
  expect(await build(packOf(), { only: ['sheet/bonesFuller/a4'] })).toEqual({
    kind: 'refused',
    message: 'the lesson has no part "sheet/bonesFuller/a4" any more. Look at its parts again.',
  });
});

test('a zip for each group has its own files and those of the groups before it, and nothing of the teacher\u2019s', async () => {
  const choice = { track: 'teacher', 'track/bones-to-learn-bare': 'subscribers' } as const;
  await build(packOf());
  await writeFile(at('description.txt'), 'my own words');
  await rm(at('tune.mid'));
  const filesFor = async (group: 'public' | 'subscribers' | 'supporters') => {
    const parcel = await zipForAudience(join(room, 'pack'), choice, group);
    return parcel === null ? new Map() : new Map(Object.entries(unzipSync(parcel.bytes)));
  };
  const open = await filesFor('public');
  expect([...open.keys()]).toEqual(['sheets/02-tin-thimble-all-the-notes-a4.pdf', 'description.txt']);
  expect(new TextDecoder().decode(open.get('description.txt'))).toBe('my own words');
  const more = [...(await filesFor('subscribers')).keys()];
  expect(more.filter((path) => path.startsWith('tracks/'))).toEqual([
    'tracks/01-tin-thimble-bones-to-learn-bare.mp3',
  ]);
  expect(more).toContain('practice.html');
  const all = [...(await filesFor('supporters')).keys()];
  expect(all).toEqual(expect.arrayContaining([...open.keys(), ...more, 'tune.abc']));
  expect(all).not.toContain('manifest.json');
  expect(all).not.toContain('tune.mid');
  expect(await zipForAudience(join(room, 'elsewhere'), choice, 'public')).toBeNull();
});
