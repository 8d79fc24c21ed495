import { describe, expect, test } from 'vitest';
import { DANCES, type DanceId } from '../music/index.ts';
import { swingOf } from './swing.ts';
import { fiddleInBar, tuneOf } from './testing/tunes.ts';
import { timelineOf } from './timelineOf.ts';

describe('how strongly a dance swings at a tempo', () => {
  // Source: Beauguitte, Duggan, Kelleher (ISMIR 2016), note annotations: hornpipes 1.35–1.55 at 136–161 crotchets/min.
  test.each([136, 148, 161])('a hornpipe at %i crotchets a minute lies within what was counted', (bpm) => {
    const ratio = swingOf(DANCES.hornpipe, bpm);
    expect(ratio).toBeGreaterThanOrEqual(1.35);
    expect(ratio).toBeLessThanOrEqual(1.55);
  });
  // Source: the same: polkas 1.05–1.08.
  test.each([110, 130])('a polka at %i lies within what was counted', (bpm) => {
    const ratio = swingOf(DANCES.polka, bpm);
    expect(ratio).toBeGreaterThanOrEqual(1.05);
    expect(ratio).toBeLessThanOrEqual(1.08);
  });
  // Source: Friberg and Sundström 2002: the faster, the straighter; the short note stays at about 100 ms.
  test.each(Object.keys(DANCES) as readonly DanceId[])('%s: the faster, the straighter', (id) => {
    const ratios = [40, 60, 80, 100, 130, 180].map((bpm) => swingOf(DANCES[id], bpm));
    expect(ratios).toEqual(ratios.toSorted((a, b) => b - a));
    expect(Math.min(...ratios)).toBeGreaterThanOrEqual(1);
    expect(swingOf(DANCES[id], DANCES[id].tempo.steady)).toBeCloseTo(DANCES[id].swing, 9);
  });
  test('at a wild tempo the short note keeps 100 ms', () => {
    const pair = 60 / 270;
    expect(pair / (1 + swingOf(DANCES.hornpipe, 270))).toBeCloseTo(0.1, 9);
  });
});

const bare = { melody: true, backing: null, times: 1, countIn: false } as const;

describe('what swing moves', () => {
  // 60 crotchets a minute and 2 : 1: an even pair is 667 + 333 ms.
  const hornpipe = (body: string) =>
    timelineOf(tuneOf(body, { rhythm: 'hornpipe' }), { ...bare, beatsPerMinute: 60, swing: 2 });
  const starts = (body: string): readonly number[] =>
    fiddleInBar(hornpipe(body), 0).map((line) => Number(line.split(' ')[0]));

  test.each<readonly [string, string, readonly number[]]>([
    ['even pairs', 'GABc d2e2|G8|]', [0, 667, 1000, 1667, 2000, 3000]],
    [
      'written dotted pairs take the same ratio, not twice',
      'G>AB>c d2e2|G8|]',
      [0, 667, 1000, 1667, 2000, 3000],
    ],
    ['a snap stays', 'G<A B2 d2e2|G8|]', [0, 250, 1000, 2000, 3000]],
    ['an off-beat quaver after a dotted crotchet', 'G3A d2e2|G8|]', [0, 1667, 2000, 3000]],
    ['semiquavers share the short half', 'GA/B/ c2 d2e2|G8|]', [0, 667, 833, 1000, 2000, 3000]],
    ['a triplet stays even', '(3GAB c2 d2e2|G8|]', [0, 333, 667, 1000, 2000, 3000]],
  ])('%s', (_, body, onsets) => expect(starts(body)).toEqual(onsets));

  test('a pick-up of one quaver is a short one', () => {
    const timeline = hornpipe('A|G8|]');
    expect(fiddleInBar(timeline, 0)).toEqual(['0 333 A4 bow']);
  });
  test('dots of a strathspey are played as written, even when it is told to swing', () => {
    const score = tuneOf('G>A B<c d2e2|G8|]', { rhythm: 'strathspey' });
    const timeline = timelineOf(score, { ...bare, beatsPerMinute: 60, swing: 1.5 });
    expect(fiddleInBar(timeline, 0).map((line) => Number(line.split(' ')[0]))).toEqual([
      0, 750, 1000, 1250, 2000, 3000,
    ]);
  });
  test('a reel written dotted is played dotted', () => {
    const score = tuneOf('G>AB>c d2e2|G8|]');
    const timeline = timelineOf(score, { ...bare, beatsPerMinute: 30, swing: 1.5 });
    expect(fiddleInBar(timeline, 0).map((line) => Number(line.split(' ')[0]))).toEqual([
      0, 750, 1000, 1750, 2000, 3000,
    ]);
  });
  // Source: Beauguitte, Duggan, Kelleher (ISMIR 2016), six jigs: .340 / .310 / .350 of the beat.
  test('the three quavers of a jig', () => {
    const score = tuneOf('GAB c2d|G6|]', { rhythm: 'jig', metre: '6/8' });
    const timeline = timelineOf(score, { ...bare, beatsPerMinute: 60 });
    expect(fiddleInBar(timeline, 0)).toEqual([
      '0 340 G4 bow',
      '340 310 A4 bow',
      '650 350 B4 bow',
      '1000 650 C5 bow',
      '1650 350 D5 bow',
    ]);
  });
});
