import { describe, expect, test } from 'vitest';
import { formatChord } from '../music/index.ts';
import { type TimedNote, type Timeline, timelineOf } from '../perform/index.ts';
import {
  cornerWords,
  performanceOfSetTrack,
  setOf,
  setProblems,
  setTrackLength,
  setTracks,
  timelineOfSetTrack,
} from './index.ts';
import { DEMO_LESSONS, demoLesson, lessonOfAbc, usualPlan } from './testing/demoLessons.ts';

const LESSONS = DEMO_LESSONS.map(demoLesson);
const PAIRS = LESSONS.flatMap((a, i) => LESSONS.flatMap((b, k) => (i === k ? [] : [[i, k, a, b] as const])));

const fiddleOf = ({ notes }: Timeline, tune: number): readonly TimedNote[] =>
  notes.filter((n) => n.voice === 'fiddle' && n.tune === tune);
const endOf = (notes: readonly TimedNote[]): number => Math.max(...notes.map((n) => n.start + n.length));

describe.each(PAIRS)('tunes %i and %i played in a row', (_i, _k, a, b) => {
  const set = setOf([a, b], usualPlan(2));
  const [track] = setTracks(set).filter(
    ({ fiddle, step, backing }) => fiddle === 'version' && step === 'upToSpeed' && backing,
  );
  if (track === undefined) throw new Error('no track');
  const timeline = timelineOfSetTrack(set, track);
  const alone = performanceOfSetTrack(set, track).map(({ score, settings }) => timelineOf(score, settings));
  const seam = timeline.bars.findIndex((bar) => bar.tune === 1);
  const downbeat = timeline.bars.find((bar) => bar.tune === 1 && bar.number === '1')?.start ?? 0;

  test('bars follow without a gap, and one count-in goes before them', () => {
    for (const [i, bar] of timeline.bars.entries())
      if (i > 0) expect(bar.start).toBeCloseTo(timeline.bars[i - 1]?.end ?? 0, 9);
    const counted = timeline.beats.filter((beat) => beat.countIn);
    expect(counted).toEqual(alone[0]?.beats.filter((beat) => beat.countIn));
  });
  test('the fiddle goes over without silence, overlap or a second pick-up', () => {
    const [first, second] = [fiddleOf(timeline, 0), fiddleOf(timeline, 1)];
    expect(endOf(first)).toBeCloseTo(second[0]?.start ?? 0, 9);
    const [before, opening] = [timeline.bars[seam - 1], timeline.bars[seam]];
    expect(before?.number).toBeDefined();
    const pickup = b.written.parts[0]?.bars[0];
    const wanted = pickup?.role === 'pickup' ? pickup.events.length : 0;
    const led = second.filter(
      (n) => n.start < downbeat - 1e-9 && n.beside !== true && !['cut', 'strike'].includes(n.attack),
    );
    expect(led).toHaveLength(wanted);
    expect(opening?.number === undefined).toBe(wanted > 0);
  });
  test('each tune has the onsets that it has alone', () => {
    const shift = downbeat - (alone[1]?.bars.find((bar) => bar.number === '1')?.start ?? 0);
    const there = fiddleOf(timeline, 1).filter((n) => n.start > downbeat - 1e-9);
    const alike =
      alone[1]?.notes.filter((n) => n.voice === 'fiddle' && n.start + shift > downbeat - 1e-9) ?? [];
    expect(there.map((n) => n.midi)).toEqual(alike.map((n) => n.midi));
    there.forEach((n, i) => {
      expect(n.start).toBeCloseTo((alike[i]?.start ?? 0) + shift, 6);
    });
    const last = timeline.bars[seam - 1]?.start ?? 0;
    const upTo = (notes: readonly TimedNote[]) =>
      notes.filter((n) => n.start < last - 1e-9).map((n) => [n.start, n.midi]);
    expect(upTo(fiddleOf(timeline, 0))).toEqual(
      upTo(alone[0]?.notes.filter((n) => n.voice === 'fiddle') ?? []),
    );
  });
  test('the beat goes on: no step is longer or shorter than the two tempi make it', () => {
    const beats = timeline.beats.filter((beat) => !beat.countIn).map((beat) => beat.start);
    const near = beats.flatMap((start, i) =>
      i > 0 && start > downbeat - 3 && start < downbeat + 3 ? [start - (beats[i - 1] ?? 0)] : [],
    );
    const steps = [0, 1].map((i) => 60 / (set.tunes[i]?.tempos.upToSpeed ?? 1));
    for (const step of near) {
      expect(step).toBeGreaterThanOrEqual(Math.min(...steps) - 1e-9);
      expect(step).toBeLessThanOrEqual(Math.max(...steps) + 1e-9);
    }
  });
  test('the backing plays through the corner', () => {
    const backing = timeline.notes.filter((n) => n.voice === 'guitar' || n.voice === 'bass');
    const beat = 60 / Math.min(...set.tunes.map((tune) => tune.tempos.upToSpeed));
    const strokes = [...new Set(backing.map((n) => n.start))].filter(
      (s) => s > downbeat - 3 && s < downbeat + 3,
    );
    strokes.forEach((stroke, i) => {
      if (i > 0) expect(stroke - (strokes[i - 1] ?? 0)).toBeLessThan(beat * 1.1);
    });
  });
  test('is as long as its length says', () => {
    expect(setTrackLength(set, track)).toBeCloseTo(timeline.length + 1.6, 9);
  });
});

describe('the chord that turns the corner', () => {
  const tune = (key: string, body: string) =>
    lessonOfAbc(`X:1\nT:One\nR:reel\nM:4/4\nL:1/8\nK:${key}\n${body}\n`);
  const turnOf = (a: ReturnType<typeof tune>, b: ReturnType<typeof tune>) => {
    const turn = setOf([a, b], usualPlan(2)).tunes[0].corner?.turn ?? null;
    return turn === null ? null : `${formatChord(turn.chord)} ${turn.before.num}/${turn.before.den}`;
  };
  const g = tune('G', '|:"G"GABc d2d2|"D"c2A2 "G"G4:|');
  const d = tune('D', '|:"D"d2f2 a2f2|"A"e2c2 "D"d4:|');
  const aDorian = tune('Ador', '|:"Am"A2c2 e2c2|"G"B2G2 "Am"A4:|');
  const dWithPickup = tune('D', '|:AG|"D"F2A2 d2A2|"A"e2c2 "D"d2:|');
  test.each([
    {
      name: 'from G to D the dominant, in which the held note is the seventh',
      from: g,
      to: d,
      turn: 'A7 1/2',
    },
    { name: 'from G to A Dorian the chord goes on, a step below', from: g, to: aDorian, turn: 'G 1/2' },
    { name: 'from A Dorian to D the dominant', from: aDorian, to: d, turn: 'A7 1/2' },
    { name: 'from D into G the held note is a tone of the dominant', from: d, to: g, turn: 'D7 1/2' },
    {
      name: 'in one key the dominant waits for the pick-up',
      from: dWithPickup,
      to: dWithPickup,
      turn: 'A7 1/4',
    },
    {
      name: 'in one key without a pick-up the dominant would rub: the subdominant',
      from: g,
      to: g,
      turn: 'C 1/2',
    },
  ])('$name', ({ from, to, turn }) => {
    expect(turnOf(from, to)).toBe(turn);
  });
  test('is sounded by the bass, and led to', () => {
    const set = setOf([g, d], usualPlan(2));
    const track = setTracks(set).at(-1);
    if (track === undefined) throw new Error('no track');
    const { notes, bars } = timelineOfSetTrack(set, track);
    const downbeat = bars.find((bar) => bar.tune === 1)?.start ?? 0;
    const last = bars.findLast((bar) => bar.tune === 0);
    const middle = ((last?.start ?? 0) + downbeat) / 2;
    const bass = (from: number, to: number) =>
      notes
        .filter((n) => n.voice === 'bass' && n.start > from - 0.01 && n.start < to - 0.01)
        .map((n) => n.midi % 12);
    expect(bass(middle, downbeat)[0]).toBe(9);
    expect(bass(downbeat, downbeat + 0.2)[0]).toBe(2);
  });
  test("the teacher's own choice wins", () => {
    const plan = {
      ...usualPlan(2),
      tunes: [
        { times: 2, tempos: {}, turn: 'Em' },
        { times: 2, tempos: {}, turn: null },
      ],
    };
    expect(setOf([g, d], plan).tunes[0].corner?.turn).toMatchObject({
      kind: 'asked',
      chord: { quality: 'minor' },
    });
  });
});

describe('a set in words', () => {
  test('says what the pick-up takes, which chord leads on, and the dances', () => {
    const [lantern, coat, thimbles, lamplighter] = LESSONS;
    if (lantern === undefined || coat === undefined || thimbles === undefined || lamplighter === undefined)
      throw new Error('no lessons');
    const set = setOf([lantern, coat, lamplighter, thimbles], usualPlan(4));
    expect([0, 1, 2].map((i) => cornerWords(set, i))).toMatchInlineSnapshot(`
      [
        [
          "The pick-up of The Ferryman's Wet Coat lies in the last bar; the note before it is held a quaver longer.",
          "G goes on to the end of the bar: a step below, it leads to A5.",
          "From reel to jig: minim = 70, then dotted crotchet = 80.",
        ],
        [
          "The pick-up of The Left-Handed Lamplighter takes a quaver from the last bar.",
          "A7, the dominant, leads to D, in the last dotted crotchet of the bar.",
          "From jig to hornpipe: dotted crotchet = 80, then crotchet = 110.",
        ],
        [
          "Seven Thimbles has no pick-up: the last note is held a crotchet longer and fills the bar.",
          "C, a step below, leads to D, in the last minim of the bar.",
          "From hornpipe to slip jig: crotchet = 110, then dotted crotchet = 80.",
        ],
      ]
    `);
  });
  test('a rest before the pick-up is called so', () => {
    const from = lessonOfAbc('X:1\nT:One\nR:reel\nM:4/4\nL:1/8\nK:G\n|:GABc d2d2|G4 z2:|\n');
    const to = lessonOfAbc('X:1\nT:Two\nR:reel\nM:4/4\nL:1/8\nK:G\n|:D|GABc d2d2|G4 G3:|\n');
    expect(cornerWords(setOf([from, to], usualPlan(2)), 0)[0]).toBe(
      'The pick-up of Two lies in the last bar; the rest before it is held a quaver longer.',
    );
  });
  test('two to four tunes, and versions that are there', () => {
    expect(
      setProblems([demoLesson(DEMO_LESSONS[0])], { ...usualPlan(1), version: 'bonesFuller' }),
    ).toMatchInlineSnapshot(`
      [
        "A set has two to four tunes, and this one has 1.",
        "Tune 1 has no version "bonesFuller"; it has bones, plain, full.",
      ]
    `);
    const plan = usualPlan(2);
    const tunes = plan.tunes.map((tune) => ({ ...tune, turn: 'banana' }));
    expect(
      setProblems([demoLesson(DEMO_LESSONS[0]), demoLesson(DEMO_LESSONS[1])], { ...plan, tunes }),
    ).toContain('“banana” after tune 1 is no chord; write it like D7 or Em, or leave it out.');
  });
  test('a tempo up to speed slows the steady one in the same measure', () => {
    const plan = {
      ...usualPlan(2),
      tunes: usualPlan(2).tunes.map((t) => ({ ...t, tempos: { upToSpeed: 84 } })),
    };
    const { tempos, lesson } = setOf(LESSONS.slice(0, 2), plan).tunes[0];
    expect(tempos).toEqual({
      upToSpeed: 84,
      steady: Math.round((lesson.dance.tempo.steady * 84) / lesson.dance.tempo.upToSpeed),
    });
  });
});
