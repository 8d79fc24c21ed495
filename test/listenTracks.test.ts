import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { type HeardTrack, heardTracks } from '../measure/listenParts/demoTracks.ts';
import { readBank } from '../src/audio/index.ts';

const ROOT = new URL('../', import.meta.url);
const bank = readBank(
  readFileSync(new URL('assets/bank/bank.json', ROOT), 'utf8'),
  readFileSync(new URL('assets/bank/bank.pcm', ROOT)),
);
/** Five of the twenty-eight: all are in `npm run measure -- listenTracks`. */
const wanted = (lesson: string, slug: string): boolean =>
  slug === 'full-up-to-speed-with-backing' || (lesson === 'seven-thimbles' && slug === 'bones-to-learn-bare');

describe("the demo lessons' tracks, as MP3, are heard as they are played", () => {
  let tracks: readonly HeardTrack[] = [];
  beforeAll(async () => {
    tracks = await heardTracks(ROOT, bank, wanted);
  });

  test('each lesson at speed with backing; the bones of one, slow and bare', () => {
    expect(tracks).toHaveLength(5);
  });

  test('tuning within 3 cents, tempo within 1 % with the tune and 3 % without', () => {
    for (const track of tracks) {
      expect(track.tuningError, track.name).toBeLessThanOrEqual(3);
      expect(track.tempoError, track.name).toBeLessThanOrEqual(0.01);
      expect(track.tempoErrorByEar, track.name).toBeLessThanOrEqual(0.03);
    }
  });

  test('swing within 0.1 where the dance is swung', () => {
    const swung = tracks.filter((t) => t.swingError !== null);
    expect(swung.length).toBeGreaterThanOrEqual(2);
    for (const track of swung) expect(track.swingError, track.name).toBeLessThanOrEqual(0.1);
  });

  test('bars: 99 of 100 within 80 ms, none in the count-in', () => {
    for (const track of tracks) {
      const late = track.barErrors.filter((e) => e > 0.08).length;
      expect(late, track.name).toBeLessThanOrEqual(0.01 * track.barErrors.length);
      expect(track.barsTooMany, track.name).toBe(0);
    }
  });
});
