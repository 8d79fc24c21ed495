import { describe, expect, test } from 'vitest';
import { hertz } from '../core/index.ts';
import { readWav, type StereoSound } from '../signal/index.ts';
import { encodeMp3, encodeWav } from './index.ts';

const RATE = hertz(44_100);
const tone = (seconds: number): StereoSound => {
  const left = Float32Array.from({ length: seconds * RATE }, (_, i) => 0.3 * Math.sin(i * 0.06));
  return { rate: RATE, left, right: left };
};
const text = (bytes: Uint8Array) => String.fromCharCode(...bytes.subarray(0, 400));

describe('MP3', () => {
  test('begins with ID3 tags and lasts as long as the sound', async () => {
    const seen: number[] = [];
    const bytes = await encodeMp3(
      tone(4),
      { title: 'Seven Thimbles', artist: 'A. Teacher', track: { number: 2, outOf: 10 }, date: '2024' },
      { onProgress: (f) => seen.push(f) },
    );
    const head = text(bytes);
    expect(head.startsWith('ID3')).toBe(true);
    for (const part of ['TIT2', 'Seven Thimbles', 'TPE1', 'A. Teacher', 'TRCK', '2/10', 'TDRC', '2024'])
      expect(head).toContain(part);
    // 128 kbit/s: 16,000 bytes a second, and the encoder's delay.
    expect(bytes.length / 16_000).toBeGreaterThan(4);
    expect(bytes.length / 16_000).toBeLessThan(4.2);
    expect(seen.at(-1)).toBe(1);
  });
  test('a date that is none is left out', async () => {
    expect(text(await encodeMp3(tone(1), { title: 'x', date: 'last May' }))).not.toContain('TDRC');
  });
  test('stops between chunks when told to', async () => {
    const stop = new AbortController();
    const work = encodeMp3(tone(20), {}, { signal: stop.signal, onProgress: () => stop.abort() });
    await expect(work).rejects.toMatchObject({ name: 'AbortError' });
  });
  test('of nothing is refused', async () => {
    await expect(encodeMp3(tone(0))).rejects.toThrow(RangeError);
  });
});

test('a WAV file keeps its words', () => {
  const read = readWav(encodeWav(tone(0.1), { title: 'x', track: { number: 3, outOf: 10 }, date: '2024' }));
  expect(read.kind === 'wav' && read.info).toEqual({ title: 'x', track: 3, date: '2024' });
});
