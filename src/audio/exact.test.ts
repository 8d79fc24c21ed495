import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { chordPlanOf } from '../harmony/index.ts';
import { readAbc } from '../notation/index.ts';
import { type Timeline, timelineOf } from '../perform/index.ts';
import { readBank, renderTimeline } from './index.ts';

// Variation off: what the timeline says is what is heard.

const ASSETS = new URL('../../assets/bank/', import.meta.url);
const bank = readBank(
  readFileSync(new URL('bank.json', ASSETS), 'utf8'),
  readFileSync(new URL('bank.pcm', ASSETS)),
);
const EXACT = { variation: null, room: null } as const;
const RATE = 44_100;

const [tune] = readAbc(
  'X:1\nT:Exact\nR:reel\nM:4/4\nL:1/8\nK:G\n|:D2|~G3B [GD]2(Bd)|e{a}fge (3dddBA|!slide!B4 (3efg dB|A2F2 G2:|\n',
).tunes;
if (tune === undefined) throw new Error('no tune');
const { score } = tune;
const played = (times: number): Timeline =>
  timelineOf(score, {
    beatsPerMinute: 100,
    times,
    melody: true,
    backing: chordPlanOf(score),
    band: { players: ['guitar', 'piano', 'bass', 'drum'], pattern: 'usual' },
    passage: { from: { part: 'A', bar: 1 }, to: { part: 'A', bar: 4 } },
  });

describe('with variation off', () => {
  test('every note of every voice begins within 1 ms of the timeline', () => {
    const timeline = played(1);
    // Each note alone, in a timeline that begins a tenth of a second before it.
    const seen = new Set<string>();
    for (const note of timeline.notes) {
      const from = Math.max(0, note.start - 0.1);
      const start = (note.start - from) as typeof note.start;
      const length = (start + Math.min(note.length, 0.2)) as typeof note.start;
      const { left, right } = renderTimeline(
        { ...timeline, notes: [{ ...note, start, length: note.length }], length },
        bank,
        EXACT,
      );
      const first = left.findIndex((x, i) => Math.abs(x) + Math.abs(right[i] ?? 0) > 1e-5);
      expect(Math.abs(first / RATE - start), `${note.voice} ${note.midi} ${note.attack}`).toBeLessThan(0.001);
      seen.add(note.voice);
    }
    expect([...seen].sort()).toEqual(['bass', 'click', 'drum', 'fiddle', 'guitar', 'piano']);
  });

  test('a passage comes round without a click', () => {
    const timeline = played(3);
    const fiddle = timeline.notes.filter((n) => n.voice === 'fiddle');
    const { left } = renderTimeline({ ...timeline, notes: fiddle }, bank, EXACT);
    // A corner is the third difference of the samples, which a band-limited tone keeps small.
    const corner = (i: number): number =>
      Math.abs((left[i] ?? 0) - 3 * (left[i - 1] ?? 0) + 3 * (left[i - 2] ?? 0) - (left[i - 3] ?? 0));
    const sharpest = (from: number, to: number): number => {
      let most = 0;
      for (let i = Math.round(from * RATE); i < to * RATE; i += 1) most = Math.max(most, corner(i));
      return most;
    };
    const starts = timeline.bars.filter((b) => b.number === undefined).map((b) => b.start);
    expect(starts).toHaveLength(3);
    const [first = 0, ...joins] = starts;
    const inside = sharpest(first + 0.1, (joins[0] ?? 0) - 0.1);
    for (const join of joins) expect(sharpest(join - 0.01, join + 0.01)).toBeLessThanOrEqual(inside);
  });
});
