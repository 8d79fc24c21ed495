import { spawnSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import { hertz } from '../core/index.ts';
import { writeWav } from '../signal/index.ts';
import { decodeSound, encodeMp3 } from './index.ts';

const RATE = hertz(22_050);
const left = Float32Array.from({ length: RATE }, (_, i) => 0.4 * Math.sin((2 * Math.PI * 440 * i) / RATE));
const tone = { rate: RATE, left, right: left };
const wav = writeWav(tone, { depth: 'int16' });
const hasFfmpeg = spawnSync('ffmpeg', ['-version']).status === 0;

/** The second's tone in another format. */
const inFormat = (args: readonly string[]): Uint8Array =>
  spawnSync('ffmpeg', ['-v', 'error', '-i', 'pipe:0', ...args, 'pipe:1'], { input: wav }).stdout;

/** Sign changes from minus to plus in a second: the frequency. */
const frequencyOf = (samples: Float32Array, rate: number): number => {
  const from = Math.floor(0.3 * rate);
  const to = Math.floor(0.8 * rate);
  let count = 0;
  for (let i = from; i < to; i += 1)
    if ((samples[i - 1] as number) < 0 && (samples[i] as number) >= 0) count += 1;
  return count / 0.5;
};

const formats = [
  { name: 'FLAC', args: ['-f', 'flac'] },
  { name: 'Ogg Vorbis', args: ['-c:a', 'libvorbis', '-f', 'ogg'] },
  { name: 'Opus', args: ['-c:a', 'libopus', '-f', 'ogg'] },
  { name: 'ADTS AAC through ffmpeg', args: ['-c:a', 'aac', '-f', 'adts'] },
];

test.runIf(hasFfmpeg).each(formats)('$name is decoded', async ({ args }) => {
  const sound = await decodeSound(inFormat(args), { channels: 'apart' });
  if (sound.kind !== 'sound') throw new Error(sound.message);
  expect(sound.channels).toHaveLength(2);
  expect(frequencyOf(sound.channels[0] ?? left, sound.rate)).toBeCloseTo(440, -1);
  expect((sound.channels[0]?.length ?? 0) / sound.rate).toBeCloseTo(1, 0);
});

test('a sound is given at the rate that is asked for, and says at which it was recorded', async () => {
  for (const bytes of [wav, await encodeMp3(tone)]) {
    const sound = await decodeSound(bytes, { channels: 'mixed', rate: hertz(11_025) });
    if (sound.kind !== 'sound') throw new Error(sound.message);
    expect([sound.rate, sound.recordedAt]).toEqual([11_025, RATE]);
    expect((sound.channels[0]?.length ?? 0) / 11_025).toBeCloseTo(1, 0);
    expect(frequencyOf(sound.channels[0] ?? left, 11_025)).toBeCloseTo(440, -1);
  }
});

test('MP3 and WAV are decoded, channels mixed', async () => {
  for (const bytes of [wav, await encodeMp3(tone)]) {
    const sound = await decodeSound(bytes, { channels: 'mixed' });
    if (sound.kind !== 'sound') throw new Error(sound.message);
    expect(sound.channels).toHaveLength(1);
    expect(sound.rate).toBe(RATE);
    expect(frequencyOf(sound.channels[0] ?? left, RATE)).toBeCloseTo(440, -1);
  }
});

describe('what cannot be decoded is said in a sentence', () => {
  test.each([
    { what: 'nothing', bytes: new Uint8Array(0), says: 'empty' },
    { what: 'a WAV without samples', bytes: wav.subarray(0, 44), says: 'no sound' },
    {
      what: 'junk behind an MP3 mark',
      bytes: Uint8Array.from({ length: 5000 }, (_, i) => (i < 3 ? 'ID3'.charCodeAt(i) : (i * 77) % 251)),
      says: 'no sound',
    },
    {
      what: 'text',
      bytes: new TextEncoder().encode('X:1\nT:not a sound\n'),
      says: hasFfmpeg ? 'not a sound file' : 'ffmpeg',
    },
  ])('$what', async ({ bytes, says }) => {
    const sound = await decodeSound(bytes, { channels: 'mixed' });
    expect(sound.kind === 'problem' && sound.message).toContain(says);
  });
  test('a recording longer than allowed', async () => {
    const sound = await decodeSound(wav, { channels: 'mixed', longest: 0.5 });
    expect(sound.kind === 'problem' && sound.message).toContain('longer than');
  });
});
