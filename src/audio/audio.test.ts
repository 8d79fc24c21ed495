import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { hertz, midiNumber, seconds } from '../core/index.ts';
import { type Attack, CLICK, DRUM, type TimedNote, type Timeline, type Voice } from '../perform/index.ts';
import { filtered, highPass, levelOf, loudnessOf, lowPass, rmsOf, truePeakOf } from '../signal/index.ts';
import { readBank, zoneFor } from './bank.ts';
import { bowingOf } from './bowing.ts';
import { percussionSound } from './percussion.ts';
import { type RenderOptions, renderTimeline } from './renderTimeline.ts';

const ASSETS = new URL('../../assets/bank/', import.meta.url);
const INDEX = readFileSync(new URL('bank.json', ASSETS), 'utf8');
const PCM = readFileSync(new URL('bank.pcm', ASSETS));
const bank = readBank(INDEX, PCM);

type More = Partial<Omit<TimedNote, 'start' | 'length' | 'midi'>>;
const note = (start: number, length: number, midi: number, more: More = {}): TimedNote => ({
  voice: 'fiddle',
  start: seconds(start),
  length: seconds(length),
  midi: midiNumber(midi),
  level: 0.7,
  attack: 'bow',
  ...more,
});
const timelineOf = (...notes: readonly TimedNote[]): Timeline => ({
  notes,
  bars: [],
  beats: [],
  tempo: [],
  length: seconds(Math.max(...notes.map((n) => n.start + n.length))),
});
const EXACT: RenderOptions = { variation: null, room: null };
const left = (options: RenderOptions, ...notes: readonly TimedNote[]) =>
  renderTimeline(timelineOf(...notes), bank, options).left;

describe('the committed bank', () => {
  test('is what the sums say', () => {
    const sums = readFileSync(new URL('SHA256SUMS', ASSETS), 'utf8').trim().split('\n');
    expect(sums.length).toBe(3);
    for (const line of sums) {
      const [sum, name = ''] = line.split('  ');
      const bytes = readFileSync(new URL(name, ASSETS));
      expect(createHash('sha256').update(bytes).digest('hex'), name).toBe(sum);
    }
  });
  test('carries its licence', () => {
    const licence = readFileSync(new URL('LICENSE-FluidR3Mono.md', ASSETS), 'utf8');
    expect(licence).toContain('Frank Wen');
    expect(licence).toContain('Permission is hereby granted, free of charge');
  });
  test.each(['fiddle', 'guitar', 'bass', 'piano'] as const)(
    '%s: zones follow on and stay near their pitch',
    (voice) => {
      bank[voice].forEach((zone, i) => {
        const next = bank[voice][i + 1];
        if (next !== undefined) expect(next.low).toBe(zone.high + 1);
        expect(Math.abs(zone.cents)).toBeLessThan(10);
        expect(zone.loopEnd).toBeLessThanOrEqual(zone.samples.length);
        expect(zone.samples.every((x) => Math.abs(x) < 1)).toBe(true);
      });
    },
  );
  test('a key outside an instrument takes the nearest zone', () => {
    expect(zoneFor(bank.fiddle, 20)).toBe(bank.fiddle[0]);
    expect(zoneFor(bank.fiddle, 120)).toBe(bank.fiddle.at(-1));
  });
  test.each([
    { what: 'no JSON', index: '{', bytes: PCM },
    { what: 'another format', index: '{"format":"x"}', bytes: PCM },
    { what: 'half the samples', index: INDEX, bytes: PCM.subarray(0, PCM.length / 2) },
    {
      what: 'a loop that ends before it starts',
      index: INDEX.replace(/"loopEnd": \d+/, '"loopEnd": 3'),
      bytes: PCM,
    },
  ])('$what is refused', ({ index, bytes }) => {
    expect(() => readBank(index, bytes)).toThrow(RangeError);
  });
});

describe('what the bow does', () => {
  test.each<{ what: string; attacks: readonly [Attack, Attack]; gap?: number; entry: string; exit: string }>([
    { what: 'two strokes', attacks: ['bow', 'bow'], entry: 'stroke', exit: 'turn' },
    { what: 'a slur', attacks: ['bow', 'slur'], entry: 'slurred', exit: 'handOver' },
    { what: 'a slur after silence', attacks: ['bow', 'slur'], gap: 0.1, entry: 'stroke', exit: 'stop' },
    { what: 'a cut in the stroke', attacks: ['bow', 'cut'], entry: 'flicked', exit: 'handOverAtOnce' },
    { what: 'a treble', attacks: ['treble', 'treble'], entry: 'shortStroke', exit: 'lift' },
    { what: "a treble's last stroke", attacks: ['treble', 'bow'], entry: 'stroke', exit: 'lift' },
  ])('$what', ({ attacks: [first, second], gap = 0, entry, exit }) => {
    const [a, b] = bowingOf([
      note(0, 0.2, 69, { attack: first }),
      note(0.2 + gap, 0.2, 71, { attack: second }),
    ]);
    expect([a?.exit, b?.entry]).toEqual([exit, entry]);
  });
  test('a cut that begins a stroke turns the bow', () => {
    const [a, b] = bowingOf([note(0, 0.2, 69), note(0.2, 0.04, 71, { attack: 'cut', newBow: true })]);
    expect([a?.exit, b?.entry]).toEqual(['turn', 'shortStroke']);
  });
  test('a drone beside is a line of its own; an open string rings on', () => {
    const bowed = bowingOf([
      note(0, 0.4, 62, { beside: true }),
      note(0, 0.2, 69),
      note(0.2, 0.2, 71, { attack: 'slur' }),
    ]);
    expect(bowed.map((b) => b.exit).sort()).toEqual(['handOver', 'ring', 'stop']);
  });
});

describe('rendering', () => {
  test('same input, same samples, variation on', () => {
    const notes = [
      note(0.1, 0.3, 69),
      note(0.4, 0.3, 71, { attack: 'slur' }),
      note(0.1, 0.6, 50, { voice: 'guitar', attack: 'pluck' }),
    ];
    const [a, b] = [left({}, ...notes), left({}, ...notes)];
    expect(a).toEqual(b);
    expect(left({ variation: 2 }, ...notes)).not.toEqual(a);
  });
  test.each<{ voice: Voice; midi: number; attack: Attack }>([
    { voice: 'fiddle', midi: 69, attack: 'bow' },
    { voice: 'guitar', midi: 50, attack: 'pluck' },
    { voice: 'bass', midi: 38, attack: 'pluck' },
    { voice: 'piano', midi: 57, attack: 'pluck' },
    { voice: 'drum', midi: DRUM.low, attack: 'hit' },
    { voice: 'click', midi: CLICK.accented, attack: 'hit' },
  ])(
    '$voice: silent before its start, sounding within 3 ms, silent at the end',
    ({ voice, midi, attack }) => {
      const x = left(EXACT, note(0.25, 0.5, midi, { voice, attack }));
      const start = Math.round(0.25 * 44_100);
      const peak = x.reduce((m, v) => Math.max(m, Math.abs(v)), 0);
      expect(x.slice(0, start).every((v) => v === 0)).toBe(true);
      expect(x.findIndex((v) => Math.abs(v) > 0.02 * peak) - start).toBeLessThan(0.003 * 44_100);
      expect(Math.abs(x.at(-1) ?? 1)).toBeLessThan(1e-6);
    },
  );
  test('a slur has no dip, a bow change a small one, a treble a deep one', () => {
    const dip = (first: Attack, second: Attack) => {
      const x = left(EXACT, note(0, 0.1, 69, { attack: first }), note(0.1, 0.1, 69, { attack: second }));
      const levels = Array.from({ length: 30 }, (_, i) => {
        const at = Math.round((0.085 + i / 1000) * 44_100);
        return rmsOf(x, at, at + 200);
      });
      return levelOf(Math.max(...levels) / Math.min(...levels));
    };
    expect(dip('bow', 'slur')).toBeLessThan(4);
    expect(dip('bow', 'bow')).toBeGreaterThan(4);
    expect(dip('treble', 'treble')).toBeGreaterThan(15);
  });
  test('a slide arrives from below', () => {
    // Above the fundamental everything is filtered away: one rise through zero a period.
    const crossings = (sound: Float32Array, from: number, to: number) => {
      const low = lowPass(hertz(500), hertz(44_100));
      const x = filtered(sound, [low, low, low]);
      let n = 0;
      for (let i = from; i < to; i += 1) if ((x[i - 1] ?? 0) < 0 && (x[i] ?? 0) >= 0) n += 1;
      return n;
    };
    const straight = left(EXACT, note(0, 1, 69));
    const slid = left(EXACT, note(0, 1, 69, { glideFrom: -2, glideTime: seconds(0.4) }));
    expect(crossings(slid, 2000, 12_000)).toBeLessThan(crossings(straight, 2000, 12_000) - 3);
    expect(
      Math.abs(crossings(slid, 22_050, 44_100) - crossings(straight, 22_050, 44_100)),
    ).toBeLessThanOrEqual(1);
  });
  test('a louder note is louder, a voice that is left out is silent', () => {
    const loud = rmsOf(left(EXACT, note(0, 1, 69, { level: 0.85 })));
    const soft = rmsOf(left(EXACT, note(0, 1, 69, { level: 0.6 })));
    expect(loud).toBeGreaterThan(soft * 1.2);
    expect(rmsOf(left({ ...EXACT, voices: ['guitar'] }, note(0, 1, 69)))).toBe(0);
  });
  test('fiddle in front of the backing, nothing overloaded', () => {
    const fiddle = Array.from({ length: 16 }, (_, i) => note(i * 0.25, 0.25, 64 + ((i * 5) % 12)));
    const backing = [0, 1, 2, 3].flatMap((beat) =>
      [45, 52, 57, 61].map((midi) => note(beat, 0.8, midi, { voice: 'guitar', attack: 'pluck' })),
    );
    const loudness = (...notes: readonly TimedNote[]) =>
      loudnessOf(renderTimeline(timelineOf(...notes), bank, EXACT));
    expect(loudness(...fiddle) - loudness(...backing)).toBeGreaterThan(2);
    expect(truePeakOf(renderTimeline(timelineOf(...fiddle, ...backing), bank))).toBeLessThan(0);
  });
  test('the room answers after the sound and dies away', () => {
    const wet = left({ variation: null }, note(0, 0.2, 69));
    const dry = left(EXACT, note(0, 0.2, 69));
    const tail = (from: number) => levelOf(rmsOf(wet, from, from + 4410));
    expect(rmsOf(dry, 20_000, 24_000)).toBe(0);
    expect(tail(16_000)).toBeGreaterThan(tail(34_000) + 15);
  });
  test('another sample rate keeps times and levels', () => {
    const at48 = renderTimeline(timelineOf(note(0.25, 0.5, 69)), bank, { ...EXACT, rate: hertz(48_000) });
    expect(at48.left.findIndex((v) => Math.abs(v) > 0.001) / 48_000).toBeCloseTo(0.25, 2);
    expect(
      Math.abs(levelOf(rmsOf(at48.left)) - levelOf(rmsOf(left(EXACT, note(0.25, 0.5, 69))))),
    ).toBeLessThan(0.3);
  });
  test.each([
    [63, 64],
    [66, 67],
    [81, 82],
  ])('(regression) keys %i and %i, of two samples, are equally loud and bright', (lower, upper) => {
    const figures = (midi: number) => {
      const samples = left(EXACT, note(0, 0.6, midi)).subarray(2205, 24_255);
      const above = highPass(hertz(3000), hertz(44_100));
      const bright = levelOf(rmsOf(filtered(samples, [above, above])) / rmsOf(samples));
      return { bright, loud: loudnessOf({ rate: hertz(44_100), samples }) };
    };
    const [a, b] = [figures(lower), figures(upper)];
    expect(Math.abs(a.loud - b.loud)).toBeLessThan(0.5);
    expect(Math.abs(a.bright - b.bright)).toBeLessThan(1.2);
  });
  test('vibrato is on long notes, and only when asked for', () => {
    const [long, short] = [note(0, 1.2, 69), note(0, 0.3, 69)];
    const plain = left(EXACT, long);
    expect(left({ ...EXACT, vibrato: true }, long)).not.toEqual(plain);
    expect(left({ ...EXACT, vibrato: true }, short)).toEqual(left(EXACT, short));
  });
  test('a note before the beginning is refused', () => {
    expect(() => left({}, note(-0.1, 1, 69))).toThrow(RangeError);
  });
});

test('click and drum: the accented click is higher and stronger, unknown keys click', () => {
  const rate = hertz(44_100);
  const [accented, plain] = [percussionSound(CLICK.accented, rate), percussionSound(CLICK.plain, rate)];
  expect(rmsOf(accented)).toBeGreaterThan(rmsOf(plain));
  expect(percussionSound(1, rate)).toBe(plain);
  expect(percussionSound(DRUM.low, rate).length).toBeGreaterThan(percussionSound(DRUM.tap, rate).length);
});
