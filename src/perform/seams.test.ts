import { describe, expect, test } from 'vitest';
import { CLOSING_HOLD } from './data.ts';
import { type Header, melodyOf, pitchesInBar, tuneOf } from './testing/tunes.ts';
import { timelineOf } from './timelineOf.ts';

const perform = (body: string, times = 1, header: Header = {}) =>
  timelineOf(tuneOf(body, header), {
    beatsPerMinute: 60,
    swing: 1,
    times,
    countIn: false,
    melody: true,
    backing: null,
  });

/** Crotchets from the start to each beat of the tune: what a foot would tap. */
const taps = (body: string, times = 1, header: Header = {}): readonly number[] =>
  perform(body, times, header).beats.map((b) => Math.round(b.start * 2000) / 1000);

describe('a pick-up lies in the last bar before it', () => {
  test('a last bar short by the pick-up: plain one after another', () => {
    const timeline = perform('|:DE|G4 B4|d4 G2:|');
    expect([0, 1, 2, 3, 4, 5].map((n) => pitchesInBar(timeline, n))).toEqual([
      'D4 E4',
      'G4 B4',
      'D5 G4',
      'D4 E4',
      'G4 B4',
      'D5 G4',
    ]);
    // The foot taps minims all the way, also where the end meets the beginning.
    expect(taps('|:DE|G4 B4|d4 G2:|')).toEqual([1, 3, 5, 7, 9, 11, 13, 15]);
  });
  test('a last bar written full gives the pick-up the time of its last note', () => {
    const timeline = perform('|:DE|G4 B4|d4 G4:|');
    expect(taps('|:DE|G4 B4|d4 G4:|')).toEqual([1, 3, 5, 7, 9, 11, 13, 15]);
    const [, , last, pickup] = timeline.bars;
    expect((last?.end ?? 0) - (last?.start ?? 0)).toBeCloseTo(1.5, 9);
    expect((pickup?.end ?? 0) - (pickup?.start ?? 0)).toBeCloseTo(0.5, 9);
  });
  test('or of its last rest', () => {
    expect(taps('|:DE|G4 B4|d4 G2z2:|')).toEqual([1, 3, 5, 7, 9, 11, 13, 15]);
    expect(pitchesInBar(perform('|:DE|G4 B4|d4 G2z2:|'), 2)).toBe('D5 G4');
  });
  test('a full last bar that runs on leads by itself, and the pick-up is left out', () => {
    const timeline = perform('|:DEF|G4 B4|d2G2 BAGF:|');
    expect(timeline.bars.map((b) => b.number ?? '-')).toEqual(['-', '1', '2', '1', '2']);
    expect(pitchesInBar(timeline, 2)).toBe('D5 G4 B4 A4 G4 F#4');
  });
  test('a short last bar that goes back to no pick-up is filled', () => {
    expect(taps('DE|:G4 B4|d4 G2:|')).toEqual([1, 3, 5, 7, 9, 11, 13, 15]);
  });
  test('from one part to the next, and from the end to the next time through', () => {
    const body = '|:D2|G4 B4|d4 G2:||:Bc|d4 B4|A4 G2:|';
    expect(taps(body, 2)).toEqual(Array.from({ length: 32 }, (_, i) => 1 + 2 * i));
  });
  test('a bar split by a repeat is one bar', () => {
    const body = '|:c4|G4 B4|d4:|c4|B4 G4|]';
    expect(taps(body)).toEqual(Array.from({ length: 11 }, (_, i) => 2 * i));
    expect(perform(body).bars.map((b) => b.number ?? '-')).toEqual(['-', '1', '2', '-', '1', '2', '-', '3']);
  });
  test('endings keep the beat', () => {
    expect(taps('|:DE|G4 B4|1d4 A2:|2d4 G4|]')).toEqual([1, 3, 5, 7, 9, 11, 13, 15]);
  });
  test('a bar that is short in the middle is played as written', () => {
    const timeline = perform('G4 B2|d4 G4|]');
    expect(timeline.bars[0]?.end).toBeCloseTo(1.5, 9);
  });
  test('metres may change from bar to bar', () => {
    expect(taps('G4 B4|[M:3/4]d2d2d2|[M:4/4]G8|]')).toEqual([0, 2, 4, 5, 6, 7, 9]);
  });
  test('a pick-up in a new metre lies in the last bar of the old one', () => {
    const body = '|:D|G6 B3|d6 G2:|[M:6/8]D|G6|G6|]';
    const starts = perform(body, 1, { rhythm: 'slip jig', metre: '9/8' }).beats.map((b) =>
      Math.round(b.start * 1000),
    );
    const gaps = starts.slice(1).map((b, i) => b - (starts[i] ?? 0));
    expect(gaps).toEqual(Array.from({ length: 15 }, () => 1000));
  });
  test('free metre has no bars to fill', () => {
    const timeline = perform('G4 A2|B4 d4 e2|d8|', 1, { metre: 'none', rhythm: 'air' });
    expect(timeline.bars.map((b) => Math.round(b.end * 1000))).toEqual([3000, 8000, 12000]);
  });
});

describe('the end really ends', () => {
  const closing = (body: string) => melodyOf(perform(body)).at(-1);
  test('the last note fills the bar that stopped short of a pick-up', () => {
    const timeline = perform('|:DE|G4 B4|d4 G2:|');
    expect(timeline.bars.at(-1)?.end).toBeCloseTo(8.5, 9);
    expect(closing('|:DE|G4 B4|d4 G2:|')?.start).toBeCloseTo(7.5, 9);
  });
  test('and is held long enough to be one', () => {
    expect(closing('|:DE|G4 B4|d4 G2:|')?.length).toBeCloseTo(CLOSING_HOLD, 9);
    expect(closing('G4 B4|G8|]')?.length).toBeCloseTo(2, 9);
  });
  test('a lead back to the beginning is not played the last time', () => {
    const timeline = perform('|:G4 B4|d4 G2DE:|');
    expect(pitchesInBar(timeline, 1)).toBe('D5 G4 D4 E4');
    expect(pitchesInBar(timeline, 3)).toBe('D5 G4');
  });
  test('a tune that ends off its keynote is left as it is', () => {
    expect(pitchesInBar(perform('G4 B4|d4 c2AF|]'), 1)).toBe('D5 C5 A4 F#4');
  });
  test('rests after the last note are its own', () => {
    expect(closing('G4 B4|G4z4|]')?.length).toBeCloseTo(2, 9);
  });
});
