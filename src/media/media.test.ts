import { describe, expect, test } from 'vitest';
import { hertz } from '../core/index.ts';
import { readWav, type StereoSound } from '../signal/index.ts';
import { encodeFlac, encodeMp3, encodeWav } from './index.ts';

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

describe('FLAC', () => {
  test('begins as FLAC, keeps its words and is smaller than WAV', async () => {
    const bytes = await encodeFlac(tone(2), { title: 'Seven Thimbles', date: '2024-05-01' });
    const head = text(bytes);
    expect(head.startsWith('fLaC')).toBe(true);
    for (const part of ['TITLE=Seven Thimbles', 'DATE=2024-05-01']) expect(head).toContain(part);
    expect(bytes.length).toBeLessThan(encodeWav(tone(2)).length / 2);
  });
  test('of nothing is refused', async () => {
    await expect(encodeFlac(tone(0))).rejects.toThrow(RangeError);
  });
});

test('(regression) an MP3 declares its delay and padding, so that it begins on time', async () => {
  const bytes = await encodeMp3(tone(2), { title: 'x' });
  const at = text(bytes).indexOf('Info');
  expect(at).toBeGreaterThan(0);
  const view = new DataView(bytes.buffer, bytes.byteOffset + at);
  const declared = view.getUint32(140) & 0xffffff;
  const [delay, padding] = [declared >> 12, declared & 0xfff];
  expect(delay).toBe(576);
  expect(view.getUint32(8) * 1152 - delay - padding).toBe(2 * RATE);
});

test('a cover is carried by MP3 and FLAC, WAV does without', async () => {
  const cover = Uint8Array.from([137, 80, 78, 71, 13, 10, 26, 10, 1, 2, 3]);
  const has = (bytes: Uint8Array) => text(bytes).includes('image/png') && text(bytes).includes('PNG');
  expect(has(await encodeMp3(tone(1), { cover }))).toBe(true);
  expect(has(await encodeFlac(tone(1), { cover }))).toBe(true);
  expect(has(encodeWav(tone(1), { cover }))).toBe(false);
});
