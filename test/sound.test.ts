import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { afterAll, describe, expect, test } from 'vitest';
import { readBank, renderTimeline } from '../src/audio/index.ts';
import { hertz, midiNumber, randomFrom, seconds } from '../src/core/index.ts';
import { encodeMp3, encodeWav } from '../src/media/index.ts';
import { loudnessOf, type StereoSound, settleLoudness, truePeakOf } from '../src/signal/index.ts';
import { ROOT } from './house.ts';

// Our loudness, WAV and MP3 beside FFmpeg's.

const RATE = hertz(44_100);
const FFMPEG = 'ffmpeg';
const FFPROBE = 'ffprobe';
const folder = mkdtempSync(join(tmpdir(), 'tuneladder-sound-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const hasFfmpeg =
  spawnSync(FFMPEG, ['-version']).status === 0 && spawnSync(FFPROBE, ['-version']).status === 0;
if (!hasFfmpeg) process.stderr.write('skipped: test/sound.test.ts needs ffmpeg and ffprobe\n');

/** Bursts of tone and noise with silence between, so that both gates have work. */
const bursts = (seed: number): StereoSound => {
  const random = randomFrom(seed);
  const left = new Float32Array(12 * RATE);
  const right = new Float32Array(12 * RATE);
  for (let burst = 0; burst < 24; burst += 1) {
    const from = Math.floor(burst * 0.5 * RATE);
    const [frequency, gain] = [110 * 2 ** (4 * random.next()), 0.3 * random.next()];
    for (let i = 0; i < 0.35 * RATE; i += 1) {
      const fade = Math.sin((Math.PI * i) / (0.35 * RATE));
      const x = gain * fade * (Math.sin((2 * Math.PI * frequency * i) / RATE) + 0.3 * (random.next() - 0.5));
      left[from + i] = x;
      right[from + i] = 0.6 * x;
    }
  }
  return { rate: RATE, left, right };
};

/** Two octaves of D on the fiddle, twelve seconds with the ringing out: what the tracks are made of. */
const scale = (): StereoSound => {
  const file = (name: string) => readFileSync(join(ROOT, 'assets/bank', name));
  const bank = readBank(file('bank.json').toString(), file('bank.pcm'));
  const keys = [62, 64, 66, 67, 69, 71, 73, 74, 76, 78, 79, 81, 83];
  const notes = Array.from({ length: 52 }, (_, i) => ({
    voice: 'fiddle' as const,
    start: seconds(i * 0.2),
    length: seconds(0.2),
    midi: midiNumber(keys[(i * 5) % keys.length] ?? 62),
    level: 0.7,
    attack: i % 3 === 0 ? ('slur' as const) : ('bow' as const),
  }));
  return renderTimeline({ notes, bars: [], beats: [], tempo: [], length: seconds(10.4) }, bank);
};

/** Integrated loudness and true peak as FFmpeg's EBU R128 meter finds them. */
const meter = (file: string) => {
  const args = ['-hide_banner', '-nostats', '-i', file, '-af', 'ebur128=peak=true', '-f', 'null', '-'];
  const said = spawnSync(FFMPEG, args, { encoding: 'utf8' }).stderr;
  const summary = said.slice(said.lastIndexOf('Summary:'));
  return {
    loudness: Number(/I:\s+(-?[\d.]+) LUFS/.exec(summary)?.[1]),
    peak: Number(/Peak:\s+(-?[\d.]+) dBFS/.exec(summary)?.[1]),
  };
};

const probe = (file: string) =>
  JSON.parse(
    spawnSync(FFPROBE, ['-v', 'error', '-show_format', '-show_streams', '-of', 'json', file], {
      encoding: 'utf8',
    }).stdout,
  );

describe.skipIf(!hasFfmpeg)('beside FFmpeg', () => {
  test.each([1, 2, 3])('loudness within 0.2 LU, true peak within 0.3 dB (material %i)', (seed) => {
    const sound = bursts(seed);
    const file = join(folder, `bursts-${seed}.wav`);
    writeFileSync(file, encodeWav(sound, {}, 'float32'));
    const theirs = meter(file);
    expect(Math.abs(loudnessOf(sound) - theirs.loudness)).toBeLessThan(0.2);
    expect(Math.abs(truePeakOf(sound) - theirs.peak)).toBeLessThan(0.3);
  });
  test.each(['int16', 'int24', 'float32'] as const)('WAV in %s is read, words too', (depth) => {
    const file = join(folder, `${depth}.wav`);
    writeFileSync(file, encodeWav(bursts(4), { title: 'Wet Coat', artist: 'A. Teacher' }, depth));
    const { format, streams } = probe(file);
    expect(Number(format.duration)).toBeCloseTo(12, 3);
    expect(streams[0].channels).toBe(2);
    expect(format.tags).toMatchObject({ title: 'Wet Coat', artist: 'A. Teacher' });
  });
  test('MP3: length, tags, bit rate, and still −16 LUFS under −1 dBTP after decoding', async () => {
    const file = join(folder, 'track.mp3');
    const tags = {
      title: 'The Ferryman’s Wet Coat: The bones, to learn, bare',
      artist: 'A. Teacher',
      album: 'The Ferryman’s Wet Coat',
      track: { number: 1, outOf: 10 },
      date: '2024-05-01',
      comment: 'Tune: Trad.',
    };
    writeFileSync(file, await encodeMp3(settleLoudness(scale()), tags));
    const { format, streams } = probe(file);
    expect(Math.abs(Number(format.duration) - 12)).toBeLessThan(0.1);
    // FFmpeg divides bytes by seconds, the encoder's delay included.
    expect(Math.abs(Number(streams[0].bit_rate) / 128_000 - 1)).toBeLessThan(0.01);
    expect(format.tags).toMatchObject({
      title: tags.title,
      artist: tags.artist,
      album: tags.album,
      track: '1/10',
      date: '2024-05-01',
      comment: 'Tune: Trad.',
    });
    const theirs = meter(file);
    expect(Math.abs(theirs.loudness + 16)).toBeLessThan(0.2);
    expect(theirs.peak).toBeLessThanOrEqual(-1);
  });
});

describe('MP3 in a worker thread, on the build', () => {
  const inWorker = (body: string): Promise<string> => {
    const code = `
      const { parentPort } = require('node:worker_threads');
      const say = (text) => parentPort.postMessage(text);
      import(${JSON.stringify(new URL('dist/media/index.js', `file://${ROOT}`).href)}).then(async ({ encodeMp3 }) => {
        const left = new Float32Array(44100 * 20).map((_, i) => 0.2 * Math.sin(i * 0.05));
        const sound = { rate: 44100, left, right: left };
        ${body}
      }).catch((error) => say('failed: ' + error));`;
    return new Promise((resolve, reject) => {
      let said = 'nothing';
      const worker = new Worker(code, { eval: true });
      worker.on('message', (text: string) => {
        said = text;
      });
      worker.on('error', reject);
      // Ends by itself only if the encoder's own worker has ended, too.
      worker.on('exit', () => resolve(said));
    });
  };
  test('encodes, and the thread ends', async () => {
    expect(await inWorker(`say('bytes ' + (await encodeMp3(sound)).length)`)).toMatch(/^bytes 3[12]\d{4}$/);
  });
  test('stops when told to, and the thread ends', async () => {
    const said = await inWorker(`
      const stop = new AbortController();
      const options = { signal: stop.signal, onProgress: () => stop.abort() };
      await encodeMp3(sound, {}, options).then(() => say('finished'), (error) => say(error.name));`);
    expect(said).toBe('AbortError');
  });
});
