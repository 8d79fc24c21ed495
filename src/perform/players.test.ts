import { describe, expect, test } from 'vitest';
import { chordPlanOf } from '../harmony/index.ts';
import { chordChromas, DANCES, type DanceId, metre, readChord } from '../music/index.ts';
import { patternFor } from './patterns.ts';
import type { Band } from './settings.ts';
import { type Header, tuneOf } from './testing/tunes.ts';
import { DRUM } from './timeline.ts';
import { timelineOf } from './timelineOf.ts';
import { leadingBass, pianoVoicing } from './voicing.ts';

const chord = (name: string) => {
  const read = readChord(name);
  if (read === null) throw new Error(name);
  return read;
};
const backed = (body: string, band: Band, header: Header = {}) => {
  const score = tuneOf(body, header);
  return timelineOf(score, {
    beatsPerMinute: 60,
    swing: 1,
    times: 1,
    countIn: false,
    melody: true,
    backing: chordPlanOf(score),
    band,
  });
};
const ALL: Band = { players: ['guitar', 'piano', 'bass', 'drum'], pattern: 'usual' };

const METRES: Readonly<Partial<Record<DanceId, readonly [number, number]>>> = {
  jig: [6, 8],
  slipJig: [9, 8],
  slide: [12, 8],
  compoundMarch: [6, 8],
  polka: [2, 4],
  waltz: [3, 4],
  mazurka: [3, 4],
  threeTwo: [3, 2],
};

describe('patterns', () => {
  test.each(Object.keys(DANCES) as readonly DanceId[])('%s has two that differ', (id) => {
    const own = metre(...(METRES[id] ?? [4, 4]));
    const [usual, other] = (['usual', 'other'] as const).map((choice) => patternFor(DANCES[id], own, choice));
    expect(usual).not.toEqual(other);
    for (const pattern of [usual, other])
      expect(pattern?.strokes.some((s) => s.kind === 'bass' || s.kind === 'down')).toBe(true);
  });
});

describe('the piano', () => {
  test('plays the chord’s tones close together, above the bass and mostly under the tune', () => {
    for (const name of ['G', 'C', 'D', 'Em', 'Bm', 'A', 'F', 'Bb', 'D7']) {
      const keys = pianoVoicing(chord(name), []);
      expect(new Set(keys.map((k) => k % 12))).toEqual(new Set(chordChromas(chord(name))));
      expect(Math.min(...keys)).toBeGreaterThanOrEqual(52);
      expect(Math.max(...keys)).toBeLessThanOrEqual(74);
    }
  });
  test('moves little from chord to chord, and comes back where it began', () => {
    let before: readonly number[] = [];
    const lowest: number[] = [];
    for (const name of ['G', 'C', 'D', 'G', 'Em', 'Am', 'D', 'G']) {
      const keys = pianoVoicing(chord(name), before);
      const steps = keys.map((k) => Math.min(...before.map((b) => Math.abs(b - k))));
      if (before.length > 0) expect(Math.max(...steps)).toBeLessThanOrEqual(4);
      lowest.push(keys[0] ?? 0);
      before = keys;
    }
    expect(Math.abs((lowest.at(-1) ?? 0) - (lowest[0] ?? 0))).toBeLessThanOrEqual(5);
  });
  test('leaves the third out of a bare fifth', () => {
    const keys = pianoVoicing(chord('A5'), []);
    expect(new Set(keys.map((k) => k % 12))).toEqual(new Set([9, 4]));
  });
});

describe('the whole band', () => {
  test('every player plays, softer than the tune', () => {
    const { notes } = backed('"G"G4 B4|"D"d4 "G"G4|]', ALL);
    for (const voice of ALL.players) expect(notes.some((n) => n.voice === voice)).toBe(true);
    const loudest = Math.max(...notes.filter((n) => n.voice !== 'fiddle').map((n) => n.level));
    expect(loudest).toBeLessThan(Math.min(...notes.filter((n) => n.voice === 'fiddle').map((n) => n.level)));
  });
  test('the drum is low on every beat', () => {
    const { notes } = backed('"G"G8|"G"G8|"G"G8|]', { players: ['drum'], pattern: 'usual' });
    const low = notes.filter((n) => n.voice === 'drum' && n.midi === DRUM.low).map((n) => n.start);
    for (const beat of [0, 1, 2, 3]) expect(low.some((t) => Math.abs(t - beat) < 1e-9)).toBe(true);
  });
  test('a chord is pressed and strummed within milliseconds, not at once', () => {
    const { notes } = backed('"G"G8|"G"G8|]', ALL);
    for (const voice of ['guitar', 'piano'] as const) {
      const starts = notes
        .filter((n) => n.voice === voice && n.start > 0.4 && n.start < 0.9)
        .map((n) => n.start);
      expect(new Set(starts).size).toBe(starts.length);
      expect(Math.max(...starts) - Math.min(...starts)).toBeLessThan(0.1);
    }
  });
});

describe('the end of a part', () => {
  test('the bass leads by a step of the scale into what follows', () => {
    const { notes, bars } = backed('|:"G"G8|"D"d8:|:"C"c8|"G"G8:|', { players: ['bass'], pattern: 'usual' });
    const bass = notes.filter((n) => n.voice === 'bass');
    const end = bars[3]?.end ?? 0;
    const last = bass.findLast((n) => n.start < end - 1e-6);
    const next = bass.find((n) => n.start >= end - 1e-6);
    expect(Math.abs((last?.midi ?? 0) - (next?.midi ?? 0))).toBeLessThanOrEqual(2);
    expect(last?.midi).not.toBe(next?.midi);
  });
  test('a leading note is of the key', () => {
    const scaleOfG = [7, 9, 11, 0, 2, 4, 6];
    for (const name of ['G', 'C', 'D', 'Em', 'Am', 'Bm'])
      for (const from of [28, 33, 40, 45]) {
        const lead = leadingBass(chord(name), from, scaleOfG);
        expect(scaleOfG).toContain(((lead % 12) + 12) % 12);
      }
  });
});
