import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { run, workRoom } from './program.ts';

const tune = (title: string, rhythm: string, metre: string, key: string, body: string): string =>
  `X:1\nT:${title}\nR:${rhythm}\nM:${metre}\nL:1/8\nK:${key}\n${body}\n`;
const LID = tune('The Kettle Lid', 'reel', '4/4', 'G', '|:"G"GABd g2d2|"D"c2A2 "G"G4:|');
const SPOUT = tune('The Spout', 'jig', '6/8', 'D', '|:A|"D"d2f a2f|"A"e2c "D"d2:|');
const LESSON = '{"format":"tuneladder-lesson","version":1,"papers":["A4"],"formats":["wav"]}';

let room: Awaited<ReturnType<typeof workRoom>>;
beforeEach(async () => {
  room = await workRoom();
  for (const [name, abc] of [
    ['lid', LID],
    ['spout', SPOUT],
  ] as const) {
    await mkdir(join(room.path, name));
    await writeFile(join(room.path, name, 'tune.abc'), abc);
    await writeFile(join(room.path, name, 'lesson.json'), LESSON);
  }
  await mkdir(join(room.path, 'sets'));
});
afterEach(() => room.leave());

test('a set is stored, and built from its file: sheet, six tracks, page, words, manifest, zip', async () => {
  const stored = await run(
    ['set', 'lid', 'spout', '--times', '1', '--tempo', '100,110', '--save', 'sets/tea.json'],
    room.path,
  );
  expect(stored).toEqual({ code: 0, out: 'The set is stored in sets/tea.json.\n', err: '' });
  expect(JSON.parse(await readFile(join(room.path, 'sets/tea.json'), 'utf8'))).toEqual({
    format: 'tuneladder-set',
    version: 1,
    tunes: [
      { lesson: 'lid', times: 1, tempos: { upToSpeed: 100 } },
      { lesson: 'spout', times: 1, tempos: { upToSpeed: 110 } },
    ],
  });
  const ran = await run(['set', 'sets/tea.json', '--title', 'Tea', '--out', 'tea'], room.path);
  expect(ran.err).toBe('');
  expect(ran.code).toBe(0);
  const files = (await readdir(join(room.path, 'tea'), { recursive: true })).toSorted();
  expect(files.filter((path) => path.includes('.'))).toEqual([
    'manifest.json',
    'practice.html',
    'set.txt',
    'sheets/tea-a4.pdf',
    'tea-set.zip',
    'tracks/01-tea-the-bones-steady-with-backing.wav',
    'tracks/02-tea-full-version-steady-bare.wav',
    'tracks/03-tea-full-version-steady-with-backing.wav',
    'tracks/04-tea-full-version-up-to-speed-with-backing.wav',
    'tracks/05-tea-backing-alone-steady.wav',
    'tracks/06-tea-backing-alone-up-to-speed.wav',
  ]);
  const words = await readFile(join(room.path, 'tea/set.txt'), 'utf8');
  expect(words).toContain('The pick-up of The Spout takes a quaver from the last bar.');
  expect(words).toContain('A7, the dominant, leads to D, in the last minim of the bar.');
  expect(words).toContain('Up to speed: dotted crotchet = 110.');
  const again = await run(
    ['set', 'sets/tea.json', '--title', 'Tea', '--out', 'tea', '--plays', 'bones'],
    room.path,
  );
  expect(again.code).toBe(0);
  expect((await readdir(join(room.path, 'tea/tracks'))).toSorted()[0]).toBe(
    '01-tea-the-bones-steady-bare.wav',
  );
});

describe('what is wrong is said', () => {
  test.each([
    [['set', 'lid', '--out', 'o'], 2, /two to four lessons/],
    [['set', 'lid', 'spout'], 2, /--out DIR/],
    [['set', 'lid', 'spout', '--out', 'o', '--times', '1,2,3'], 2, /3 numbers for 2 tunes/],
    [['set', 'lid', 'spout', '--out', 'o', '--times', '0'], 2, /whole numbers from 1 to 9/],
    [['set', 'lid', 'spout', '--out', 'o', '--tempo', 'fast'], 2, /numbers from 10 to 400/],
    [['set', 'lid', 'spout', '--out', 'o', '--paper', 'a3'], 2, /set: --paper takes a4, letter, both/],
    [
      ['set', 'lid', 'spout', '--out', 'o', '--plays', 'bonesFuller'],
      1,
      /Tune 1 has no version "bonesFuller"; it has bones, plain, full\./,
    ],
    [['set', 'lid', 'cup', '--out', 'o'], 1, /cup/],
    [['set', 'sets/none.json', '--out', 'o'], 1, /^sets\/none\.json:1:1:/m],
  ])('%j', async (argv, code, message) => {
    const ran = await run(argv, room.path);
    expect(ran.code).toBe(code);
    expect(ran.err).toMatch(message);
    expect(ran.out).toBe('');
  });
  test('in a set file, with its place', async () => {
    await writeFile(
      join(room.path, 'sets/bad.json'),
      '{"format":"tuneladder-set","version":1,\n "tunes":[{"lesson":"lid"}]}',
    );
    const ran = await run(['set', 'sets/bad.json', '--out', 'o'], room.path);
    expect(ran).toEqual({ code: 1, out: '', err: 'sets/bad.json:2:2: tunes has too few; at least 2.\n' });
  });
});
