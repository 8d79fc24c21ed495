import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Bank, type LiveSound, liveSoundOf, readBank, renderTimeline } from '../audio/index.ts';
import { hertz } from '../core/index.ts';
import { chordPlanOf } from '../harmony/index.ts';
import { DANCES } from '../music/index.ts';
import { timelineOf } from '../perform/index.ts';
import type { Score } from '../score/index.ts';
import { rmsOf } from '../signal/index.ts';
import { type Playing, passOf } from './pass.ts';
import { type Round, type RoundPlan, roundOf } from './round.ts';
import { type Report, sequencerOf } from './sequencer.ts';
import { scoreOf } from './testing/scoreOf.ts';

const ASSETS = new URL('../../assets/bank/', import.meta.url);
const RATE = 44_100;
const BLOCK = 128;

// Four bars with a roll, a cut, a slur over the bar line and a treble: all that tells strokes apart.
const TUNE = 'M:4/4\nL:1/8\nR:reel\nK:D\n|:~D3F A2(FA|B)AF{g}A d2AF|(3BBB AF E2FE|D2FA d2D2:|\n';

let bank: Bank;
let score: Score;
let playing: Playing;
beforeAll(() => {
  bank = readBank(
    readFileSync(new URL('bank.json', ASSETS), 'utf8'),
    readFileSync(new URL('bank.pcm', ASSETS)),
  );
  score = scoreOf(TUNE);
  playing = {
    dance: DANCES.reel,
    chords: chordPlanOf(score),
    beatsPerMinute: 90,
    swing: null,
    band: { players: ['guitar', 'bass'], pattern: 'usual' },
    variation: null,
  };
});

const WHOLE: RoundPlan = { from: 0, to: 99, loop: false, startAt: null, turns: null, countIn: false };

interface Ran {
  readonly left: Float32Array;
  readonly reports: readonly Report[];
  readonly sound: LiveSound;
}

/** Plays so many seconds, with orders at certain blocks. */
const ran = (
  seconds: number,
  orders: readonly {
    readonly at: number;
    readonly kind: 'start' | 'change' | 'then';
    readonly round: Round;
  }[],
  { rate = RATE, variation = null as number | null } = {},
): Ran => {
  const sound = liveSoundOf(bank, { rate: hertz(rate), variation });
  const reports: Report[] = [];
  const sequencer = sequencerOf(sound, rate, (report) => reports.push(report));
  const left = new Float32Array(Math.ceil((seconds * rate) / BLOCK) * BLOCK);
  const right = new Float32Array(BLOCK);
  const waiting = orders.map((order, id) => ({ ...order, id }));
  for (let at = 0; at < left.length; at += BLOCK) {
    while (waiting[0] !== undefined && waiting[0].at * rate <= at) {
      const { kind, id, round } = waiting.shift() ?? waiting[0];
      sequencer.order({ kind, id, round });
    }
    sequencer.advance();
    sound.render(left.subarray(at, at + BLOCK), right);
  }
  return { left, reports, sound };
};

const framesOf = (reports: readonly Report[]): readonly number[] => reports.map((r) => r.frame);
const largest = (x: Float32Array): number => x.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
const steepest = (x: Float32Array, from: number, to: number): number => {
  let most = 0;
  for (let i = Math.max(1, from); i < Math.min(to, x.length); i += 1)
    most = Math.max(most, Math.abs((x[i] as number) - (x[i - 1] as number)));
  return most;
};

describe('live sound', () => {
  test.each([{ variation: null }, { variation: 1 }])(
    'is the sound of the track, sample for sample, variation $variation',
    ({ variation }) => {
      const round = roundOf(passOf(score, { ...playing, variation }), WHOLE);
      const { left, reports } = ran(9, [{ at: 0, kind: 'start', round }], { variation });
      const timeline = timelineOf(score, {
        dance: playing.dance,
        beatsPerMinute: playing.beatsPerMinute,
        melody: true,
        backing: playing.chords,
        band: playing.band,
        click: true,
        times: 1,
      });
      const track = renderTimeline(timeline, bank, { variation });
      const first = reports[0]?.frame ?? 0;
      const begins = Math.round((timeline.bars[0]?.start ?? 0) * RATE);
      // Chance in the last bar is another, since the pass goes on before it ends.
      const end = variation === null ? timeline.bars.at(-1)?.end : (timeline.bars.at(-1)?.start ?? 0) - 0.05;
      const last = Math.round((end ?? 0) * RATE) - begins;
      // Clicks of the count-in ring into the first bar of the track.
      const from = Math.round(0.2 * RATE);
      const apart = left
        .subarray(first + from, first + last)
        .map((x, i) => x - (track.left[begins + from + i] as number));
      expect(largest(track.left)).toBeGreaterThan(0.1);
      expect(largest(apart)).toBeLessThan(1e-4);
    },
  );
  test('a loop has neither gap nor click at its seam', () => {
    const pass = passOf(score, playing);
    const round = roundOf(pass, { ...WHOLE, from: 1, to: 2, loop: true });
    const { left, reports } = ran(14, [{ at: 0, kind: 'start', round }]);
    const frames = framesOf(reports);
    const length = (frames[2] ?? 0) - (frames[0] ?? 0);
    const gaps = frames.slice(1).map((f, i) => f - (frames[i] ?? 0));
    expect(Math.max(...gaps) - Math.min(...gaps)).toBeLessThanOrEqual(1);
    // The second time round and the third are alike but for the noise of the hair: the same rings over the seam.
    const times = [2, 4].map((at) => left.subarray(frames[at] ?? 0, (frames[at] ?? 0) + length));
    const [second = new Float32Array(), third = new Float32Array()] = times;
    expect(rmsOf(second.map((x, i) => x - (third[i] as number)))).toBeLessThan(0.1 * rmsOf(second));
    const seam = frames[4] ?? 0;
    const around = Math.round(0.01 * RATE);
    expect(steepest(left, seam - around, seam + around)).toBeLessThanOrEqual(
      1.2 * steepest(left, (frames[2] ?? 0) + around, seam - around),
    );
    for (const at of [seam - 3 * around, seam, seam + 2 * around])
      expect(rmsOf(left, at, at + around)).toBeGreaterThan(0.01);
  });
});

describe('the sequencer', () => {
  const passes = () => [passOf(score, playing), passOf(score, { ...playing, beatsPerMinute: 60 })] as const;

  test('goes over into another round at the next bar line, to the bar that would have come', () => {
    const [quick, slow] = passes();
    const loop = { ...WHOLE, to: 3, loop: true };
    const bar = quick.fullBar;
    const { reports } = ran(4 * bar + 3, [
      { at: 0, kind: 'start', round: roundOf(quick, loop) },
      { at: 1.3 * bar, kind: 'change', round: roundOf(slow, loop) },
    ]);
    const told = reports.map((r) => (r.kind === 'bar' ? [r.id, r.place] : []));
    expect(told.slice(0, 4)).toEqual([
      [0, 0],
      [0, 1],
      [1, 2],
      [1, 3],
    ]);
    const frames = framesOf(reports);
    const lengths = frames.slice(1).map((f, i) => (f - (frames[i] ?? 0)) / RATE);
    expect(lengths[1]).toBeCloseTo(quick.fullBar, 3);
    expect(lengths[2]).toBeCloseTo(slow.fullBar, 3);
  });
  test('plays what was told to come then when a round has ended', () => {
    const [quick, slow] = passes();
    const once = { ...roundOf(quick, { ...WHOLE, from: 0, to: 0, loop: true }), again: null };
    const { reports } = ran(6, [
      { at: 0, kind: 'start', round: once },
      { at: 0.3, kind: 'then', round: { ...roundOf(slow, { ...WHOLE, to: 0, loop: true }), again: null } },
    ]);
    expect(reports.map((r) => (r.kind === 'bar' ? r.id : r.kind))).toEqual([0, 1, 'end']);
  });
  test('an empty round ends at once', () => {
    const { reports } = ran(1, [{ at: 0, kind: 'start', round: { bars: [], again: null } }]);
    expect(reports.map((r) => r.kind)).toEqual(['end']);
  });
  test('holds no more after ten minutes of a loop than after ten seconds', () => {
    const rate = 16_000;
    const round = roundOf(passOf(score, playing), { ...WHOLE, to: 3, loop: true });
    const short = ran(10, [{ at: 0, kind: 'start', round }], { rate });
    const long = ran(600, [{ at: 0, kind: 'start', round }], { rate });
    expect(long.sound.held()).toBeLessThanOrEqual(2 * short.sound.held() + 20);
    expect(largest(long.left.subarray(-5 * rate))).toBeGreaterThan(0.05);
  }, 240_000);
});
