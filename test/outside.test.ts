import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { readBank, renderTimeline } from '../src/audio/index.ts';
import { midiNumber, seconds } from '../src/core/index.ts';
import { DEFAULT_SETTINGS, lessonOf, timelineOfTrack, trackPlans } from '../src/lesson/index.ts';
import { encodeFlac, encodeMp3, encodeWav } from '../src/media/index.ts';
import { readAbc } from '../src/notation/index.ts';
import type { TimedNote, Timeline } from '../src/perform/index.ts';
import { loudnessOf, type StereoSound, settleLoudness } from '../src/signal/index.ts';
import { ROOT } from './house.ts';

// Our tracks heard by other programs: FFmpeg's decoders and loudness meter, aubio's pitch detector.

const has = (program: string, ...args: readonly string[]): boolean =>
  spawnSync(program, args).error === undefined;
const FFMPEG = has('ffmpeg', '-version') && has('ffprobe', '-version');
const AUBIO = has('aubiopitch', '--help');
for (const [there, name] of [
  [FFMPEG, 'ffmpeg'],
  [AUBIO, 'aubiopitch'],
] as const)
  if (!there) process.stderr.write(`skipped: the checks of test/outside.test.ts that need ${name}\n`);

const folder = mkdtempSync(join(tmpdir(), 'tuneladder-outside-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const bankFile = (name: string) => readFileSync(join(ROOT, 'assets/bank', name));
const bank = readBank(bankFile('bank.json').toString(), bankFile('bank.pcm'));

const decoded = (file: string): Float32Array => {
  const { stdout } = spawnSync('ffmpeg', ['-v', 'error', '-i', file, '-map', '0:a', '-f', 'f32le', '-'], {
    maxBuffer: 1e9,
  });
  return new Float32Array(stdout.buffer.slice(stdout.byteOffset, stdout.byteOffset + stdout.length));
};

/** A real track with backing, twice through four bars. */
const track = (): StereoSound => {
  const abc = 'X:1\nT:Short\nR:reel\nM:4/4\nL:1/8\nK:G\n|:~G3B d2Bd|efge dBAB|G2{a}GB dBAB|(3BBB AF G4:|\n';
  const [tune] = readAbc(abc).tunes;
  if (tune === undefined) throw new Error('no tune');
  const lesson = lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31' });
  const plan = trackPlans(lesson, 'default').find((p) => p.slug === 'full-steady-with-backing');
  if (plan === undefined) throw new Error('no track');
  return settleLoudness(renderTimeline(timelineOfTrack(lesson, plan), bank));
};
const TAGS = { title: 'Short: Full version', artist: 'A. Teacher', album: 'Short', date: '2026-01-31' };

describe.skipIf(!FFMPEG)('FFmpeg', () => {
  const sound = FFMPEG ? track() : { rate: 0, left: new Float32Array(0), right: new Float32Array(0) };
  test.each([
    ['mp3', (s: StereoSound) => encodeMp3(s, TAGS), 0.03],
    ['flac', (s: StereoSound) => encodeFlac(s, TAGS), 1 / 0x8000],
    ['wav', (s: StereoSound) => Promise.resolve(encodeWav(s, TAGS)), 1 / 0x8000],
  ] as const)('decodes %s from the first sample to the last, with its words', async (kind, encode, most) => {
    const file = join(folder, `track.${kind}`);
    writeFileSync(file, await encode(sound as StereoSound));
    const heard = decoded(file);
    expect(heard.length).toBe(2 * sound.left.length);
    // Sample beside sample: what begins late or early differs by far more than an encoder's loss.
    let squares = 0;
    let all = 0;
    sound.left.forEach((x, i) => {
      squares += (x - (heard[2 * i] ?? 0)) ** 2;
      all += x ** 2;
    });
    expect(Math.sqrt(squares / sound.left.length)).toBeLessThan(most);
    expect(squares).toBeLessThan(0.1 * all);
    const { stdout } = spawnSync('ffprobe', ['-v', 'error', '-show_format', '-of', 'json', file], {
      encoding: 'utf8',
    });
    const tags = Object.fromEntries(
      Object.entries(JSON.parse(stdout).format.tags as Record<string, string>).map(([k, v]) => [
        k.toLowerCase(),
        v,
      ]),
    );
    expect(tags).toMatchObject(TAGS);
  });
  test('finds a track as loud as we do, within 0.2 LU', () => {
    const file = join(folder, 'loud.wav');
    writeFileSync(file, encodeWav(sound as StereoSound, {}, 'float32'));
    const args = ['-hide_banner', '-nostats', '-i', file, '-af', 'ebur128', '-f', 'null', '-'];
    const said = spawnSync('ffmpeg', args, { encoding: 'utf8' }).stderr;
    const theirs = Number(/I:\s+(-?[\d.]+) LUFS/.exec(said.slice(said.lastIndexOf('Summary:')))?.[1]);
    expect(Math.abs(theirs - loudnessOf(sound as StereoSound))).toBeLessThan(0.2);
  });
});

describe.skipIf(!AUBIO)('a pitch detector of other people’s', () => {
  /** First-position notes and above, G3 to C6, thirty of them. */
  const KEYS = Array.from({ length: 30 }, (_, i) => 55 + i);
  const LENGTH = 1;
  test('hears thirty notes within 3 cents of equal temperament at A = 440', () => {
    const notes = KEYS.map(
      (midi, i): TimedNote => ({
        voice: 'fiddle',
        start: seconds(i * LENGTH),
        length: seconds(LENGTH),
        midi: midiNumber(midi),
        level: 0.7,
        attack: 'bow',
      }),
    );
    const timeline: Timeline = {
      notes,
      bars: [],
      beats: [],
      tempo: [],
      length: seconds(KEYS.length * LENGTH),
    };
    const file = join(folder, 'scale.wav');
    writeFileSync(
      file,
      encodeWav(renderTimeline(timeline, bank, { variation: null, room: null, voices: ['fiddle'] })),
    );
    const { stdout } = spawnSync('aubiopitch', ['-i', file, '-p', 'yin', '-B', '8192', '-H', '512'], {
      encoding: 'utf8',
    });
    const frames = stdout
      .trim()
      .split('\n')
      .map((line) => line.split(/\s+/).map(Number));
    const off = KEYS.map((midi, i) => {
      const inside = frames
        .filter(([at = 0, hertz = 0]) => at > i * LENGTH + 0.35 && at < (i + 1) * LENGTH - 0.25 && hertz > 0)
        .map(([, hertz = 0]) => 1200 * Math.log2(hertz / (440 * 2 ** ((midi - 69) / 12))))
        .toSorted((a, b) => a - b);
      expect(inside.length).toBeGreaterThan(10);
      return inside[Math.floor(inside.length / 2)] ?? 100;
    });
    expect(Math.max(...off.map(Math.abs))).toBeLessThanOrEqual(3);
  });
});
