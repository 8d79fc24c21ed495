import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hertz } from '../src/core/index.ts';
import { encodeWav } from '../src/media/index.ts';
import { loudnessOf, readWav } from '../src/signal/index.ts';
import { run, workRoom } from './program.ts';

// Tracks on request, from the command line and from lesson.json, all the way to files.

const TUNE = 'X:1\nT:Two Bars\nR:reel\nM:4/4\nL:1/8\nK:G\n|:G2BG d2BG|A2cA G4:|\n';
const OWN = Float32Array.from({ length: 8 * 44_100 }, (_, i) => 0.05 * Math.sin(i * 0.06));

let room: Awaited<ReturnType<typeof workRoom>>;
const at = (...parts: readonly string[]): string => join(room.path, ...parts);
beforeAll(async () => {
  room = await workRoom();
  await mkdir(at('lesson'));
  await writeFile(at('lesson/tune.abc'), TUNE);
  await writeFile(at('lesson/mine.wav'), encodeWav({ rate: hertz(44_100), left: OWN, right: OWN }));
  const lesson = {
    format: 'tuneladder-lesson',
    version: 1,
    date: '2026-01-31',
    times: 1,
    papers: ['A4'],
    tracks: [{ bars: '1-2', tempo: 100, times: 3, click: true }],
    recordings: [{ file: 'mine.wav', track: 6 }],
    formats: ['wav', 'flac'],
    band: { players: ['piano', 'drum'] },
  };
  await writeFile(at('lesson/lesson.json'), JSON.stringify(lesson));
});
afterAll(() => room.leave());

describe('tracks on request', () => {
  test('are made as files of every kind asked for, own recordings as loud as the others', async () => {
    const ran = await run(['pack', 'lesson', '--out', 'pack', '--add', 'plain echo at 100'], room.path);
    expect(ran.code).toBe(0);
    const tracks = (await readdir(at('pack/tracks'))).sort();
    expect(tracks.filter((t) => t.endsWith('.wav'))).toHaveLength(12);
    expect(tracks.filter((t) => t.endsWith('.flac'))).toHaveLength(12);
    expect(tracks).toContain('11-two-bars-full-bars-1-2-at-100-with-backing-with-click.wav');
    expect(tracks).toContain('12-two-bars-plain-echo-by-2-bars-at-100-with-backing.flac');
    const own = readWav(
      new Uint8Array(await readFile(at('pack/tracks', tracks.find((t) => /^06.*wav$/.test(t)) ?? ''))),
    );
    if (own.kind !== 'wav') throw new Error(own.message);
    const [left = new Float32Array(0), right = left] = own.channels;
    expect(left.length).toBe(OWN.length);
    expect(Math.abs(loudnessOf({ rate: own.rate, left, right }) + 16)).toBeLessThan(0.1);
    expect(ran.out).toContain('Full version, steady, with backing (recorded)');
    const flac = await readFile(
      at('pack/tracks', '11-two-bars-full-bars-1-2-at-100-with-backing-with-click.flac'),
    );
    // The cover: a PNG in a picture block.
    expect(flac.subarray(0, 400).includes('image/png')).toBe(true);
  });
  test.each([
    [['--add', 'full bars 7-9'], 1, /The tune has no bars "7-9"/],
    [['--add', 'loudly'], 2, /"loudly" is not known here/],
    [['--own', '3=nowhere.wav'], 1, /"nowhere\.wav" cannot be opened/],
    [['--own', '40=lesson/mine.wav'], 1, /There is no track 40/],
    [['--format', 'ogg'], 2, /--format takes some of mp3,flac,wav/],
  ])('%j is refused, and nothing is built', async (more, code, message) => {
    const ran = await run(['pack', 'lesson', '--out', 'none', ...more], room.path);
    expect(ran).toMatchObject({ code });
    expect(ran.err).toMatch(message);
    expect(await readdir(room.path)).not.toContain('none');
  });
});
