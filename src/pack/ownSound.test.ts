import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { hertz } from '../core/index.ts';
import { encodeFlac, encodeWav } from '../media/index.ts';
import type { StereoSound } from '../signal/index.ts';
import { inspectOwnSound, OwnSoundError, readOwnSound } from './ownSound.ts';

const folder = mkdtempSync(join(tmpdir(), 'tuneladder-own-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const hasFfmpeg = spawnSync('ffmpeg', ['-version']).error === undefined;
if (!hasFfmpeg) process.stderr.write('skipped: recordings that are not WAV need ffmpeg\n');

const tone = (seconds: number, level: number, rate = 44_100): StereoSound => {
  const left = Float32Array.from(
    { length: seconds * rate },
    (_, i) => level * Math.sin((2 * Math.PI * 440 * i) / rate),
  );
  return { rate: hertz(rate), left, right: left };
};
const kept = (name: string, bytes: Uint8Array): string => {
  const path = join(folder, name);
  writeFileSync(path, bytes);
  return path;
};

describe('a recording of one’s own', () => {
  test('as WAV is read as it is, at the rate of the tracks', async () => {
    const read = await readOwnSound(kept('own.wav', encodeWav(tone(2, 0.2, 48_000))));
    expect(read.rate).toBe(44_100);
    expect(read.left.length).toBe(2 * 44_100);
    expect(Math.max(...read.left.subarray(1000, 3000))).toBeCloseTo(0.2, 2);
  });
  test.skipIf(!hasFfmpeg)('of another kind is read through FFmpeg', async () => {
    const path = kept('own.flac', await encodeFlac(tone(2, 0.2)));
    expect((await readOwnSound(path)).left.length).toBe(2 * 44_100);
  });
  test.each([
    ['well', 4, 0.2, 4.5, []],
    ['far too short', 2, 0.2, 9, [/lasts 0:02, the track whose place it takes 0:09\. Is it the right one\?/]],
    ['far too long', 4, 0.2, 2, [/Is it the right one/]],
    ['very quiet', 2, 0.01, 2, [/very quiet \(-4\d LUFS\)/]],
    ['cut off at full scale', 2, 1, 2, [/reaches full scale/]],
    ['of any length where it takes no place', 2, 0.2, null, []],
  ] as const)('%s', async (name, seconds, level, expected, remarks) => {
    const found = await inspectOwnSound(kept(`${name}.wav`, encodeWav(tone(seconds, level))), expected);
    expect(found).toHaveLength(remarks.length);
    for (const [i, remark] of remarks.entries()) expect(found[i]).toMatch(remark);
  });
  test.each([
    ['silent.wav', encodeWav(tone(2, 0)), /"silent\.wav" is silent/],
    ['empty.wav', encodeWav(tone(0, 0)), /"empty\.wav" is (empty|silent)/],
    ['letter.txt', new TextEncoder().encode('Dear class'), /"letter\.txt" is not a/],
  ])('%s is refused', async (name, bytes, message) => {
    const path = kept(name, bytes);
    await expect(inspectOwnSound(path, null)).rejects.toThrow(message);
    await expect(inspectOwnSound(path, null)).rejects.toThrow(OwnSoundError);
  });
  test('that is not there is refused', async () => {
    await expect(readOwnSound(join(folder, 'nowhere.wav'))).rejects.toThrow(
      /"nowhere\.wav" cannot be opened/,
    );
  });
});
