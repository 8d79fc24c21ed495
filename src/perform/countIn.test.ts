import { describe, expect, test } from 'vitest';
import { type Header, tuneOf } from './testing/tunes.ts';
import { CLICK } from './timeline.ts';
import { timelineOf } from './timelineOf.ts';

const clicksBefore = (
  body: string,
  header: Header,
  how: { readonly bpm: number; readonly slow?: boolean },
) => {
  const timeline = timelineOf(tuneOf(body, header), {
    beatsPerMinute: how.bpm,
    tempoStep: how.slow === true ? 'learn' : 'upToSpeed',
    times: 1,
    melody: true,
    backing: null,
  });
  const clicks = timeline.notes.filter((n) => n.voice === 'click');
  return {
    clicks: clicks.map((c) => `${Math.round(c.start * 1000)}${c.midi === CLICK.accented ? '!' : ''}`),
    first: Math.round((timeline.bars[0]?.start ?? 0) * 1000),
    beats: timeline.beats.filter((b) => b.countIn).length,
  };
};

// Common practice: a slow reel one bar counted in four, at speed two bars in two; a jig two bars of two; slip jig and
// waltz two bars of three; it stops where the pick-up begins.
describe('count-in', () => {
  test.each([
    { body: 'G8|', header: {}, bpm: 60, slow: true, clicks: ['0!', '500', '1000', '1500'], first: 2000 },
    { body: 'G8|', header: {}, bpm: 60, slow: false, clicks: ['0!', '1000', '2000!', '3000'], first: 4000 },
    { body: 'DE|G8|', header: {}, bpm: 60, slow: true, clicks: ['0!', '500', '1000'], first: 1500 },
    {
      body: 'DE|G8|',
      header: {},
      bpm: 60,
      slow: false,
      clicks: ['0!', '1000', '2000!', '3000'],
      first: 3500,
    },
    {
      body: 'D|G6|',
      header: { rhythm: 'jig', metre: '6/8' },
      bpm: 60,
      slow: false,
      clicks: ['0!', '1000', '2000!', '3000'],
      first: 3650,
    },
    {
      body: 'DEF|G6|',
      header: { rhythm: 'jig', metre: '6/8' },
      bpm: 60,
      slow: false,
      clicks: ['0!', '1000', '2000!'],
      first: 3000,
    },
    {
      body: 'G9|',
      header: { rhythm: 'slip jig', metre: '9/8' },
      bpm: 60,
      slow: true,
      clicks: ['0!', '1000', '2000', '3000!', '4000', '5000'],
      first: 6000,
    },
    {
      body: 'D2|G6|',
      header: { rhythm: 'waltz', metre: '3/4' },
      bpm: 60,
      slow: false,
      clicks: ['0!', '1000', '2000', '3000!', '4000'],
      first: 5000,
    },
    {
      body: 'G4|',
      header: { rhythm: 'march', metre: '2/4' },
      bpm: 60,
      slow: false,
      clicks: ['0!', '1000', '2000!', '3000'],
      first: 4000,
    },
    {
      body: 'G7|',
      header: { rhythm: 'dance of seven', metre: '7/8' },
      bpm: 60,
      slow: false,
      clicks: ['0!', '1000', '2000', '3000', '4000', '5000', '6000'],
      first: 7000,
    },
  ])('$header $body slow: $slow', ({ body, header, bpm, slow, clicks, first }) => {
    expect(clicksBefore(body, header, { bpm, slow })).toEqual({ clicks, first, beats: clicks.length });
  });

  test('none, or so many as are asked for', () => {
    const score = tuneOf('DE|G8|');
    const settings = { beatsPerMinute: 60, times: 1, melody: true, backing: null } as const;
    const none = timelineOf(score, { ...settings, countIn: false });
    expect(none.notes[0]).toMatchObject({ voice: 'fiddle', start: 0 });
    expect(none.tempo[0]?.at).toEqual({ num: 0, den: 1 });
    const asked = timelineOf(score, { ...settings, countIn: { bars: 1, clicks: 2 } });
    expect(asked.beats.filter((b) => b.countIn).map((b) => b.start)).toEqual([0, 1]);
    expect(asked.tempo[0]?.at).toEqual({ num: -3, den: 4 });
  });
  test('clicks go on through the tune only when told', () => {
    const score = tuneOf('G8|G8|]');
    const settings = { beatsPerMinute: 60, times: 1, melody: true, backing: null, countIn: false } as const;
    expect(timelineOf(score, settings).notes.some((n) => n.voice === 'click')).toBe(false);
    const clicking = timelineOf(score, { ...settings, click: true }).notes.filter((n) => n.voice === 'click');
    expect(clicking.map((n) => n.start)).toEqual([0, 1, 2, 3]);
  });
});

describe('settings', () => {
  const score = tuneOf('G8|]');
  const good = { beatsPerMinute: 60, melody: true, backing: null } as const;
  test.each([
    { ...good, beatsPerMinute: 0 },
    { ...good, beatsPerMinute: Number.NaN },
    { ...good, times: 0 },
    { ...good, times: 1.5 },
    { ...good, swing: 9 },
    { ...good, tempos: [60, 4000] },
    { ...good, countIn: { bars: 1, clicks: 0 } },
  ])('out of range is refused: %o', (settings) =>
    expect(() => timelineOf(score, settings)).toThrow(RangeError),
  );
  test('a tune without a note is silence after the count-in', () => {
    const timeline = timelineOf({ ...score, parts: [] }, good);
    expect(timeline.bars).toEqual([]);
    expect(timeline.notes.every((n) => n.voice === 'click')).toBe(true);
    expect(timeline.length).toBeGreaterThan(0);
  });
  test('a tempo for each time through, changing on the first beat after the pick-up', () => {
    const timeline = timelineOf(tuneOf('|:DE|G4 B4|d4 G2:|'), {
      ...good,
      times: 3,
      countIn: false,
      tempos: [60, 120],
    });
    expect(timeline.tempo.map((t) => [Math.round(t.start * 1000), t.beatsPerMinute])).toEqual([
      [0, 60],
      [8500, 120],
    ]);
    const lengths = timeline.beats.slice(1).map((b, i) => b.start - (timeline.beats[i]?.start ?? 0));
    expect(lengths.map((l) => Math.round(l * 1000))).toEqual([
      ...Array.from({ length: 8 }, () => 1000),
      ...Array.from({ length: 15 }, () => 500),
    ]);
  });
});
