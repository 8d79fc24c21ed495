import { beforeAll, describe, expect, test } from 'vitest';
import { chordPlanOf } from '../harmony/index.ts';
import { DANCES } from '../music/index.ts';
import { joinedPass, type Pass, type PassBar, passOf } from './pass.ts';
import { type RoundPlan, roundOf } from './round.ts';
import { slowForm } from './slowForm.ts';
import { scoreOf } from './testing/scoreOf.ts';

// A pick-up of a quaver, two parts of four bars, each twice: bars 0 (pick-up) to 4, again, then part B.
const JIG =
  'M:6/8\nL:1/8\nR:jig\nK:D\n|:A|dfd ede|fdB A2A|BdB AFA|Bdc d2:|\n|:g|fdf a2f|gfe d2A|BdB AFA|Bdc d2:|\n';

let pass: Pass;
beforeAll(() => {
  const score = scoreOf(JIG);
  pass = passOf(score, {
    dance: DANCES.jig,
    chords: chordPlanOf(score),
    beatsPerMinute: 90,
    swing: null,
    band: { players: ['guitar', 'bass'], pattern: 'usual' },
    variation: null,
  });
});

const PLAN: RoundPlan = { from: 0, to: 99, loop: false, startAt: null, turns: null, countIn: false };
const places = (bars: readonly PassBar[]): readonly number[] => bars.map((b) => b.index);
const lengthOf = (bars: readonly PassBar[]): number => bars.reduce((sum, b) => sum + b.end - b.start, 0);
const fiddle = (bar: PassBar | undefined) => (bar?.notes ?? []).filter((n) => n.voice === 'fiddle');

describe('a pass', () => {
  test('has every bar in the order of playing, each note in its bar', () => {
    expect(places(pass.onward)).toEqual(Array.from({ length: 20 }, (_, i) => i));
    for (const bar of pass.onward)
      for (const note of bar.notes) {
        expect(note.start).toBeGreaterThanOrEqual(bar.start - 1e-6);
        expect(note.start).toBeLessThan(bar.end);
      }
  });
  test('ends on a held note', () => {
    expect(pass.ending.index).toBe(19);
    expect(fiddle(pass.ending).at(-1)?.length).toBeGreaterThan(
      fiddle(pass.onward.at(-1)).at(-1)?.length ?? 9,
    );
  });
  test('with others in it has them near the beat, and not the fiddle that the learner plays', () => {
    const joined = joinedPass(pass, [{ pass, seat: 1, late: 0.012, loose: 0.009 }], false);
    const notes = joined.onward.flatMap(fiddle);
    expect(notes.every((n) => n.seat === 1)).toBe(true);
    const offs = notes.map((n, i) => n.start - (pass.onward.flatMap(fiddle)[i]?.start ?? 0));
    expect(Math.max(...offs)).toBeLessThan(0.0215);
    expect(Math.min(...offs)).toBeGreaterThan(-0.001);
    expect(new Set(offs.map((o) => o.toFixed(4))).size).toBeGreaterThan(10);
  });
});

describe('a round', () => {
  test('straight through has every bar and the ending', () => {
    const { bars, again } = roundOf(pass, PLAN);
    expect([places(bars).length, again]).toEqual([20, null]);
    expect(bars.at(-1)).toBe(pass.ending);
  });
  test.each([
    { what: 'from the pick-up, which the last bar has room for', from: 0, to: 4, whole: 4 },
    { what: 'two full bars', from: 1, to: 2, whole: 2 },
    { what: 'a last bar that is short is filled', from: 3, to: 4, whole: 2 },
    { what: 'the pick-up is played the first time only', from: 0, to: 2, whole: 2 },
  ])('a loop keeps the beat: $what', ({ from, to, whole }) => {
    const { bars, again } = roundOf(pass, { ...PLAN, from, to, loop: true });
    const body = bars.slice(again ?? 0);
    expect(lengthOf(body) / pass.fullBar).toBeCloseTo(whole, 3);
    const last = body.at(-1);
    for (const note of last?.notes ?? [])
      expect(note.start + note.length).toBeLessThanOrEqual((last?.end ?? 0) + 1e-6);
  });
  test('begins inside a loop and goes round all of it afterwards', () => {
    const { bars, again } = roundOf(pass, { ...PLAN, from: 1, to: 3, loop: true, startAt: 2 });
    expect(places(bars)).toEqual([2, 3, 1, 2, 3]);
    expect(again).toBe(2);
  });
  test('counts in before the first bar: before a pick-up less of it', () => {
    const clicks = (from: number) =>
      roundOf(pass, { ...PLAN, from, to: 4, loop: true, countIn: true }).bars[0];
    expect(clicks(0)?.index).toBe(-1);
    expect(lengthOf([clicks(1) as PassBar]) / pass.fullBar).toBeCloseTo(2, 3);
    expect(lengthOf([clicks(0) as PassBar])).toBeLessThan(lengthOf([clicks(1) as PassBar]));
    expect(clicks(1)?.notes).toHaveLength(4);
  });
  test('in turns has each two bars twice, the second time without the fiddle and on the beat', () => {
    const { bars } = roundOf(pass, { ...PLAN, from: 1, to: 4, loop: true, turns: 2 });
    expect(places(bars)).toEqual([1, 2, 1, 2, 3, 4, 3, 4]);
    expect(bars.map((b) => fiddle(b).length > 0)).toEqual([
      true,
      true,
      false,
      false,
      true,
      true,
      false,
      false,
    ]);
    expect(bars.map((b) => b.yours === true)).toEqual([false, false, true, true, false, false, true, true]);
    expect(lengthOf(bars) / pass.fullBar).toBeCloseTo(8, 3);
    expect(bars[2]?.notes.some((n) => n.voice === 'guitar')).toBe(true);
  });
});

test('an ornament opened out: every piece long enough, in order, none over another', () => {
  const score = scoreOf('M:4/4\nL:1/8\nR:reel\nK:G\n~G3B d2Bd|g4 g4|\n');
  const reel = passOf(score, {
    dance: DANCES.reel,
    chords: [],
    beatsPerMinute: 100,
    swing: null,
    band: { players: ['guitar', 'bass'], pattern: 'usual' },
    variation: null,
  });
  const roll = fiddle(reel.onward[0]).filter((n) => n.address?.onset.num === 0);
  expect(roll.length).toBeGreaterThanOrEqual(5);
  const slow = slowForm(roll);
  expect(slow.notes.map((n) => n.midi)).toEqual(roll.map((n) => n.midi));
  slow.notes.forEach((note, i) => {
    expect(note.length).toBeGreaterThan(0.2);
    const next = slow.notes[i + 1];
    if (next !== undefined) expect(next.start).toBeCloseTo(note.start + note.length, 6);
  });
});
