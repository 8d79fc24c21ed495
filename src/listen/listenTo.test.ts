import { describe, expect, test } from 'vitest';
import { hertz, randomFrom, vttOf } from '../core/index.ts';
import { midiOf } from '../music/index.ts';
import { readAbc, writeAbc } from '../notation/index.ts';
import { type Timeline, timelineOf } from '../perform/index.ts';
import { notesOf, type Score } from '../score/index.ts';
import { chaptersOf, draftFrom, hear, listeningJson, listenTo, remarksOf, understood } from './index.ts';
import { played } from './testing/played.ts';

const scoreOf = (text: string): Score => {
  const score = readAbc(text).tunes[0]?.score;
  if (score === undefined) throw new Error('no tune');
  return score;
};

/** Invented for these tests. */
const REEL = scoreOf(`X:1
T:Listening Reel
R:reel
M:4/4
L:1/8
K:D
|:DFAF dAFA|BGBd cAFA|DFAF dAFd|ecAc d2A2|DFAF dAFA|BGBd edcB|AFdF EGFE|DFAc d4:|
|:fdad fdad|egce agec|fdad fdaf|gece d2A2|fafd gbge|fafd ecAB|dfed cAGE|DFAc d4:|`);

const timeline = (score: Score, more: { times?: number } = {}): Timeline =>
  timelineOf(score, {
    beatsPerMinute: 112,
    swing: 1.2,
    countIn: false,
    melody: true,
    backing: null,
    times: 1,
    ...more,
  });

const soundOf = ({ notes }: Timeline, cents = 0) =>
  played(notes.map((n) => ({ midi: n.midi + cents / 100, start: n.start + 0.3, length: n.length })));

describe('listen(render(tune)) ≈ tune', () => {
  const truth = timeline(REEL);
  const { samples, rate } = soundOf(truth, 20);
  const notes = hear(samples, rate);
  const heard = understood(notes, rate);
  const known = understood(notes, rate, { score: REEL });

  test('tuning, tempo, swing and form without the tune', () => {
    expect(heard.music).toBe(true);
    expect(Math.abs((heard.tuning?.cents ?? 99) - 20)).toBeLessThan(2);
    expect(heard.tempo).toMatchObject({ beat: { num: 1, den: 2 } });
    expect(Math.abs((heard.tempo?.beatsPerMinute ?? 0) - 112)).toBeLessThan(2);
    expect(Math.abs((heard.swing?.ratio ?? 0) - 1.2)).toBeLessThan(0.08);
    expect(heard.form).toBe('AABB');
  });

  test('the tune given, every bar begins where it was played', () => {
    expect(known.found.kind).toBe('tune');
    expect(known.bars.map((b) => b.number)).toEqual(truth.bars.map((b) => Number(b.number)));
    for (const [i, bar] of known.bars.entries())
      expect(Math.abs(bar.start - 0.3 - (truth.bars[i]?.start ?? 0))).toBeLessThan(0.03);
    expect(known.form).toBe('AABB');
    expect(known.transposition).toBe(0);
  });

  test('the draft has the notes of the tune, and says that it is a draft', () => {
    const draft = draftFrom(heard);
    if (draft === null) throw new Error('no draft');
    const pitches = (score: Score) => notesOf(score).map(({ note }) => midiOf(note.pitches[0]));
    expect(pitches(draft.score)).toEqual(pitches(REEL));
    const text = writeAbc(draft.score);
    expect(text).toContain('DRAFT');
    expect(readAbc(text).diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
  });

  test('chapters: each part each time, as WebVTT', () => {
    const chapters = chaptersOf(known.bars);
    expect(chapters.map((c) => c.title)).toEqual(['A, time 1', 'A, time 2', 'B, time 1', 'B, time 2']);
    expect(vttOf(chapters)).toMatch(/^WEBVTT\n\n1\n00:00:00\.\d{3} --> 00:00:0\d\.\d{3}\nA, time 1\n/);
  });

  test('JSON has the agreed members', () => {
    const json = listeningJson(known, remarksOf(known, REEL));
    expect(Object.keys(json as object)).toEqual([
      'recording',
      'music',
      'tuning',
      'tempo',
      'swing',
      'notes',
      'beats',
      'bars',
      'form',
      'transposition',
      'remarks',
    ]);
    expect(json).toMatchObject({
      tempo: { beat: '1/2' },
      bars: expect.arrayContaining([{ number: 9, part: 'B', pass: 1, start: expect.any(Number) }]),
    });
    expect(remarksOf(known, REEL).join(' ')).toContain('Planned 106 beats');
  });
});

test('another note, played a third higher throughout, a bar left out: all is told', () => {
  const { notes, bars } = timeline(REEL);
  const gap = bars[5]?.start ?? 0;
  const cut = (bars[6]?.start ?? 0) - gap;
  const sound = played(
    notes
      .filter((n) => n.start < gap - 0.01 || n.start >= gap + cut - 0.01)
      .map((n) => ({
        midi: n.midi + 3,
        start: 0.3 + n.start - (n.start >= gap + cut - 0.01 ? cut : 0),
        length: n.length,
      })),
  );
  const heard = listenTo(sound.samples, sound.rate, { score: REEL });
  expect(heard.transposition).toBe(3);
  expect(heard.form).toBe('AABB');
  expect(remarksOf(heard, REEL)).toContain('It is played 3 semitones higher than written.');
});

test('noise is no tune', () => {
  const chance = randomFrom(3);
  const noise = Float32Array.from({ length: 60_000 }, () => 0.1 * chance.normal());
  const heard = listenTo(noise, hertz(11_025));
  expect(heard).toMatchObject({ music: false, notes: [], tempo: null, form: null });
  expect(remarksOf(heard)).toEqual(['No tune is heard in this recording.']);
  expect(draftFrom(heard)).toBeNull();
});

describe('without the tune', () => {
  const jig = (parts: string): Score => scoreOf(`X:1\nT:Listening Jig\nR:jig\nM:6/8\nL:1/8\nK:G\n${parts}`);
  const byEar = (score: Score, beatsPerMinute: number) => {
    const played = timelineOf(score, {
      beatsPerMinute,
      countIn: false,
      melody: true,
      backing: null,
      times: 1,
    });
    const { samples, rate } = soundOf(played);
    return { heard: understood(hear(samples, rate), rate), played };
  };

  test('crotchet and quaver in turn are a jig in its own tempo, not slower pairs', () => {
    const { heard, played } = byEar(
      jig(
        '|:G2B d2B|A2c e2c|G2B d2g|f2d c2A|G2B d2B|A2c e2c|d2B c2A|G3 G3:|\n|:g2d B2d|e2c A2c|g2d B2G|A2F D3|g2d B2d|e2c A2c|d2B c2A|G3 G3:|',
      ),
      116,
    );
    expect(heard.tempo?.beat).toEqual({ num: 3, den: 8 });
    expect(Math.abs((heard.tempo?.beatsPerMinute ?? 0) - 116)).toBeLessThan(3);
    const starts = heard.bars.map((b) => b.start - 0.3);
    const found = played.bars.filter((b) => starts.some((s) => Math.abs(s - b.start) < 0.05));
    expect(found.length).toBeGreaterThanOrEqual(played.bars.length - 1);
  });

  test('parts that share most of their bars are two parts', () => {
    const { heard } = byEar(
      jig(
        '|:GAB dBG|ABc ecA|dBG ABc|BGF G3|GAB dBG|ABc ecA|dBG AFD|G3 G3:|\n|:gfg dBd|ABc ecA|dBG ABc|BGF G3|gfg dBd|ABc ecA|dBG AFD|G3 G3:|',
      ),
      116,
    );
    expect(heard.form).toBe('AABB');
  });
});
