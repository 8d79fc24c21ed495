import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { played } from '../listen/testing/played.ts';
import { writeWav } from '../signal/index.ts';
import { main } from './main.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tuneladder-listen-'));
  // Eight bars of an invented jig, twice.
  const bar = [62, 66, 69, 74, 69, 66];
  const bars = [0, 2, 0, -2, 0, 2, 4, 0].map((by) => bar.map((midi) => midi + by));
  const notes = [...bars, ...bars]
    .flat()
    .map((midi, i) => ({ midi: midi + 0.3, start: 0.2 + 0.17 * i, length: 0.17 }));
  const { samples, rate } = played(notes);
  await writeFile(
    join(folder, 'jig.wav'),
    writeWav({ rate, left: samples, right: samples }, { depth: 'int16' }),
  );
  await writeFile(join(folder, 'empty.mp3'), '');
  await writeFile(join(folder, 'words.mp3'), 'ID3 but no music');
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const run = async (...argv: readonly string[]) => {
  let [out, err] = ['', ''];
  const exit = await main(['listen', ...argv], {
    stdout: { write: (text) => (out += text) },
    stderr: { write: (text) => (err += text) },
    cwd: folder,
    signal: new AbortController().signal,
    now: () => new Date(0),
  });
  return { exit, out, err };
};

test('JSON, draft and chapters of one recording', async () => {
  const { exit, out } = await run('jig.wav', '--json', '--draft', 'draft.abc', '--chapters', 'take.vtt');
  expect(exit).toBe(0);
  const told = JSON.parse(out);
  expect(told).toMatchObject({ music: true, tempo: { beat: '3/8' }, swing: null, transposition: 0 });
  expect(Math.abs(told.tuning.cents - 30)).toBeLessThan(2);
  expect(told.notes).toHaveLength(96);
  expect(await readFile(join(folder, 'draft.abc'), 'utf8')).toContain('DRAFT');
  expect(await readFile(join(folder, 'take.vtt'), 'utf8')).toMatch(/^WEBVTT/);
});

describe('what is wrong is said in a sentence, with the right exit code', () => {
  test.each([
    { argv: [], exit: 2, says: 'name one recording' },
    { argv: ['jig.wav', '--slow', '0.5'], exit: 2, says: 'go together' },
    { argv: ['jig.wav', '--slow', '7', '--out', 'x.wav'], exit: 2, says: '0.25 to 2' },
    { argv: ['jig.wav', '--slow', '0.5', '--out', 'x.txt'], exit: 2, says: '.wav or .mp3' },
    { argv: ['nothing.wav'], exit: 1, says: 'no such file' },
    { argv: ['.'], exit: 1, says: 'a folder' },
    { argv: ['empty.mp3'], exit: 1, says: 'empty' },
    { argv: ['words.mp3'], exit: 1, says: 'no sound' },
    { argv: ['jig.wav', '--tune', 'nothing.abc'], exit: 1, says: 'nothing.abc' },
  ])('$argv', async ({ argv, exit, says }) => {
    const done = await run(...argv);
    expect(done.exit).toBe(exit);
    expect(done.err).toContain(says);
    expect(done.out).toBe('');
  });
});
