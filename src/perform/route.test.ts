import { describe, expect, test } from 'vitest';
import { chordPlanOf } from '../harmony/index.ts';
import type { PerformSettings } from './settings.ts';
import { fiddleInBar, melodyOf, pitchesInBar, tuneOf } from './testing/tunes.ts';
import { timelineOf } from './timelineOf.ts';

const bare: PerformSettings = {
  beatsPerMinute: 60,
  swing: 1,
  melody: true,
  backing: null,
  times: 1,
  countIn: false,
};

/** Two parts with a pick-up each and endings in the second; every bar begins on a note of its own. */
const TUNE = '|:d2|G8|A8|B8|c6:||:e2|d8|e8|1 f8|g6:|2 a8|g6||';
const score = tuneOf(TUNE);
const place = (part: string, bar: number) => ({ part, bar });
const barsPlayed = (settings: Partial<PerformSettings>) => {
  const timeline = timelineOf(score, { ...bare, ...settings });
  return timeline.bars.map((_, n) => pitchesInBar(timeline, n));
};

describe('a passage', () => {
  test('is played over and over, its pick-up with it', () => {
    const passage = { from: place('A', 1), to: place('A', 2) };
    expect(barsPlayed({ passage, times: 2 })).toEqual(['D5', 'G4', 'A4', 'D5', 'G4', 'A4']);
  });
  test('that starts inside a part starts on its bar', () => {
    expect(barsPlayed({ passage: { from: place('A', 2), to: place('A', 3) } })).toEqual(['A4', 'B4']);
  });
  test('over two endings goes the shortest way: through the second', () => {
    expect(barsPlayed({ passage: { from: place('B', 2), to: place('B', 6) } })).toEqual(['E5', 'A5', 'G5']);
  });
  test('comes round without losing a beat', () => {
    const passage = { from: place('A', 1), to: place('A', 4) };
    const { bars } = timelineOf(score, { ...bare, passage, times: 3 });
    const starts = bars.filter((b) => b.number === '1').map((b) => b.start);
    const [first = 0, second = 0, third = 0] = starts;
    expect(second - first).toBeCloseTo(8, 9);
    expect(third - second).toBeCloseTo(8, 9);
  });
  test('has its count-in', () => {
    const passage = { from: place('A', 2), to: place('A', 3) };
    const { beats } = timelineOf(score, { ...bare, passage, countIn: true });
    expect(beats.filter((b) => b.countIn)).toHaveLength(4);
  });
  test('that the tune never goes is refused', () => {
    expect(() => timelineOf(score, { ...bare, passage: { from: place('B', 2), to: place('A', 1) } })).toThrow(
      RangeError,
    );
  });
});

describe('an echo', () => {
  const echo = (bars: number, more: Partial<PerformSettings> = {}) =>
    timelineOf(tuneOf('|:d2|G8|A8|B8|c6:|'), { ...bare, echo: bars, ...more });
  test('plays two bars and leaves them to the learner', () => {
    const timeline = echo(2);
    expect(
      timeline.bars.map((b, n) => (b.answer ? '·' : '') + pitchesInBar(timeline, n)).slice(0, 10),
    ).toEqual(['D5', 'G4', 'A4', '·', '·', '·', 'B4', 'C5', '·', '·']);
  });
  test('keeps the beat: every bar lasts its beats', () => {
    const full = echo(2).bars.filter((b) => b.number !== undefined && b.number !== '4');
    for (const bar of full) expect(bar.end - bar.start).toBeLessThanOrEqual(2 + 1e-9);
    const { bars } = echo(1);
    for (const [i, bar] of bars.entries()) expect(bar.end).toBeCloseTo(bars[i + 1]?.start ?? bar.end, 9);
  });
  test('has the backing throughout; without backing a click keeps the time', () => {
    const backed = echo(2, { backing: chordPlanOf(score) });
    const answers = backed.bars.filter((b) => b.answer && b.number !== undefined);
    for (const bar of answers)
      expect(backed.notes.some((n) => n.voice === 'bass' && n.start >= bar.start && n.start < bar.end)).toBe(
        true,
      );
    expect(backed.notes.some((n) => n.voice === 'click')).toBe(false);
    expect(echo(2).notes.some((n) => n.voice === 'click')).toBe(true);
  });
  test('a tie does not ring into the learner’s turn', () => {
    const timeline = timelineOf(tuneOf('G8|G8-|G8|A8|]'), { ...bare, echo: 2 });
    const played = timeline.bars.filter((b) => b.answer !== true);
    for (const note of melodyOf(timeline))
      expect(played.some((b) => note.start >= b.start && note.start + note.length <= b.end + 1e-9)).toBe(
        true,
      );
  });
});

describe('tempi in the tune and fermatas', () => {
  test('a tempo inside the tune changes the pace in the same measure', () => {
    const { bars } = timelineOf(tuneOf('G8|A8|[Q:1/4=60]B8|c8|]'), { ...bare, beatsPerMinute: 60 });
    expect(bars.map((b) => b.end - b.start)).toEqual([2, 2, 2, 2]);
    const marked = tuneOf('[Q:1/4=120]G8|A8|[Q:1/4=60]B8|c8|]');
    const lengths = timelineOf(marked, { ...bare, beatsPerMinute: 60 }).bars.map((b) => b.end - b.start);
    for (const [i, length] of [2, 2, 4, 4].entries()) expect(lengths[i]).toBeCloseTo(length, 9);
  });
  test('a repeat goes back to the pace of its bars', () => {
    const marked = tuneOf('|:[Q:1/4=120]G8|[Q:1/4=60]A8:|');
    const lengths = timelineOf(marked, { ...bare, beatsPerMinute: 60 }).bars.map((b) => b.end - b.start);
    for (const [i, length] of [2, 4, 2].entries()) expect(lengths[i]).toBeCloseTo(length, 9);
  });
  test('a fermata holds the note to double, and everybody waits', () => {
    const held = timelineOf(tuneOf('G4 HA4|B8|c8|]'), { ...bare, backing: chordPlanOf(tuneOf('G8|]')) });
    expect(fiddleInBar(held, 0)).toEqual(['0 1000 G4 bow', '1000 2000 A4 bow']);
    expect(held.bars[1]?.start).toBeCloseTo(3, 9);
    expect(held.tempo.map((t) => t.beatsPerMinute)).toEqual([60, 30, 60]);
  });
  test('a fermata at the end of a repeated part is held the last time', () => {
    const { bars } = timelineOf(tuneOf('|:G8|HA8:|'), bare);
    expect((bars[1]?.end ?? 0) - (bars[1]?.start ?? 0)).toBeCloseTo(2, 9);
    expect((bars[3]?.end ?? 0) - (bars[3]?.start ?? 0)).toBeCloseTo(4, 9);
  });
});

describe('the slow form of ornaments', () => {
  const triplet = (beatsPerMinute: number, body: string) =>
    fiddleInBar(timelineOf(tuneOf(body), { ...bare, beatsPerMinute }), 0).slice(0, 3);
  test('a treble opens out into two short strokes and a long one', () => {
    expect(triplet(30, '(3GGGAB d4|G8|]')).toEqual([
      '0 250 G4 treble',
      '250 250 G4 treble',
      '500 500 G4 bow',
    ]);
  });
  // Source: S. Eydmann, "Unravelling the birl", 2006: 1 : 1 : 3 in about 0.32 s.
  test('at speed its short strokes keep their time', () => {
    expect(triplet(70, '(3GGGAB d4|G8|]')).toEqual(['0 64 G4 treble', '64 64 G4 treble', '128 301 G4 bow']);
    expect(triplet(106, '(3GGGAB d4|G8|]')[0]).toBe('0 57 G4 treble');
  });
  test('a run-triplet is slurred when slow, bowed as written at speed', () => {
    expect(triplet(30, '(3GABcd e4|G8|]').map((n) => n.split(' ').at(-1))).toEqual(['bow', 'slur', 'slur']);
    expect(triplet(100, '(3GABcd e4|G8|]').map((n) => n.split(' ').at(-1))).toEqual(['bow', 'bow', 'bow']);
  });
});
