import { existsSync, readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isMultipleOf, toNumber } from '../core/index.ts';
import { danceOfScore } from '../fiddle/index.ts';
import { chordPlanOf } from '../harmony/index.ts';
import { barLengthOf, type Dance } from '../music/index.ts';
import { readAbc } from '../notation/index.ts';
import { addressKey, type Score } from '../score/index.ts';
import { CLOSING_HOLD } from './data.ts';
import type { PerformSettings } from './settings.ts';
import { melodyOf, tuneOf } from './testing/tunes.ts';
import type { TimedNote, Timeline } from './timeline.ts';
import { timelineOf } from './timelineOf.ts';

/** A moment is one when it is off by less than a nanosecond. */
const NOTHING = 1e-9;

/** Dances, and figures that each fill one cell of their bars. */
const KINDS = [
  {
    rhythm: 'reel',
    metre: '4/4',
    cells: 2,
    figures: [
      'GABc',
      'd2Bd',
      '~G3B',
      '(3BcdBA',
      'd2{e}dB',
      '[BD]2(GA)',
      '(3GGGAB',
      'G4',
      'A3B',
      '!slide!B2z2',
    ],
  },
  {
    rhythm: 'hornpipe',
    metre: '4/4',
    cells: 2,
    figures: ['GABc', 'd>Bd>B', '(3Bcd BA', 'd2f2', 'G<AB2', '{AG}FGA/B/c', 'G3A'],
  },
  {
    rhythm: 'jig',
    metre: '6/8',
    cells: 2,
    figures: ['GAB', 'd2B', '~G3', '(GA)B', 'B{c}BA', 'd>ed', '[GD]3'],
  },
  { rhythm: 'slip jig', metre: '9/8', cells: 3, figures: ['GAB', 'd2B', '~G3', 'zAB'] },
  { rhythm: 'polka', metre: '2/4', cells: 2, figures: ['GA', 'd2', 'A/B/c', 'B>A'] },
  { rhythm: 'waltz', metre: '3/4', cells: 3, figures: ['G2', 'AB', '.B2', '(3Bcd'] },
  { rhythm: 'strathspey', metre: '4/4', cells: 4, figures: ['G>A', 'B<d', 'A2', 'G/G/G'] },
] as const;

const kinds = fc.constantFrom(...KINDS);

interface Made {
  readonly score: Score;
  readonly dance: Dance;
  readonly settings: PerformSettings;
}

/** Bars that one time through plays: twice four and twice five. */
const PLAYED_BARS = 18;

/** A part of four bars and one of five, each played twice, with or without pick-ups of a quaver. */
const performances: fc.Arbitrary<Made> = kinds.chain((kind) => {
  const bars = fc.array(
    fc.array(fc.constantFrom(...kind.figures), { minLength: kind.cells, maxLength: kind.cells }),
    { minLength: 7, maxLength: 7 },
  );
  return fc
    .record({
      bars,
      pickup: fc.boolean(),
      beatsPerMinute: fc.integer({ min: 40, max: 180 }),
      times: fc.integer({ min: 1, max: 3 }),
      swing: fc.option(fc.double({ min: 1, max: 2.5, noNaN: true }), { nil: undefined }),
      countIn: fc.boolean(),
    })
    .map(({ bars: cells, pickup, beatsPerMinute, times, swing, countIn }) => {
      const written = cells.map((bar) => bar.join(' '));
      const [count = 4, unit = 4] = kind.metre.split('/').map(Number);
      const last = `G${(count * 8) / unit - (pickup ? 1 : 0)}`;
      const part = (from: number, to: number) =>
        `|:${pickup ? 'D|' : ''}${[...written.slice(from, to), last].join('|')}:|`;
      const score = tuneOf(`${part(0, 3)}\n${part(3, 7)}`, { rhythm: kind.rhythm, metre: kind.metre });
      const settings = { beatsPerMinute, times, countIn, melody: true, backing: chordPlanOf(score) };
      return {
        score,
        dance: danceOfScore(score),
        settings: swing === undefined ? settings : { ...settings, swing },
      };
    });
});

const SEED = { seed: 20262, numRuns: 40 };
const law = (check: (made: Made, timeline: Timeline) => void): void =>
  fc.assert(
    fc.property(performances, (made) => check(made, timelineOf(made.score, made.settings))),
    SEED,
  );

/** Notes that begin before the note in front of them, or last no time. */
const outOfOrder = (notes: readonly TimedNote[]): readonly TimedNote[] =>
  notes.filter((note, i) => note.start < (notes[i - 1]?.start ?? 0) || !(note.length > 0));

/** Notes that sound on into the next. */
const overlapping = (melody: readonly TimedNote[]): readonly TimedNote[] =>
  melody.filter(
    (note, i) => note.start + note.length > (melody[i + 1]?.start ?? Number.POSITIVE_INFINITY) + NOTHING,
  );

describe('laws of the timeline', () => {
  test('onsets rise, and the melody is one voice', () =>
    law((_, timeline) => {
      expect(outOfOrder(timeline.notes)).toEqual([]);
      expect(overlapping(melodyOf(timeline))).toEqual([]);
    }));

  test('bars join, and notes lie inside them', () =>
    law((_, { bars, notes, length }) => {
      bars.forEach((bar, i) => {
        expect(bar.end).toBeGreaterThan(bar.start);
        if (i > 0) expect(bar.start).toBe(bars[i - 1]?.end);
      });
      expect(notes.filter((n) => n.start + n.length > length + NOTHING)).toEqual([]);
      const first = (bars[0]?.start ?? 0) - NOTHING;
      expect(notes.filter((n) => n.voice !== 'click' && n.start < first)).toEqual([]);
    }));

  test('every bar lasts its beats, a pick-up lies inside one, and so does all of it', () =>
    law(({ score, dance, settings }, timeline) => {
      const { bars, beats, length } = timeline;
      const melody = melodyOf(timeline);
      const beat = 60 / settings.beatsPerMinute;
      const barTime =
        (toNumber(barLengthOf(score.metre) ?? { num: 1, den: 1 }) / toNumber(dance.beat)) * beat;
      const numbered = bars.filter((b) => b.number !== undefined);
      numbered.forEach((bar, i) => {
        const next = numbered[i + 1]?.start ?? bars.at(-1)?.end ?? 0;
        expect(next - bar.start).toBeCloseTo(barTime, 8);
      });
      const tapped = beats.filter((b) => !b.countIn);
      const steady = tapped.slice(1).map((b, i) => b.start - (tapped[i]?.start ?? 0));
      for (const gap of steady) expect(gap).toBeCloseTo(beat, 8);
      expect(numbered.length).toBe(PLAYED_BARS * (settings.times ?? 2));
      const counted = (numbered[0]?.start ?? 0) / barTime;
      if (settings.countIn !== false) expect([1, 2].map((n) => Math.abs(counted - n) < 1e-6)).toContain(true);
      const closing = (melody.at(-1)?.start ?? 0) + CLOSING_HOLD;
      expect(length).toBeCloseTo(Math.max(bars.at(-1)?.end ?? 0, closing), 8);
    }));

  test('a note written on a beat starts on the beat', () =>
    law(({ score, dance }, timeline) => {
      const beats = timeline.beats.map((b) => b.start);
      const seen = new Set<string>();
      for (const note of melodyOf(timeline)) {
        const at = note.address;
        const bar = score.parts.find((p) => p.label === at?.part)?.bars[at?.bar ?? 0];
        if (at === undefined || bar?.role !== 'full' || !isMultipleOf(at.onset, dance.beat)) continue;
        const { grace: _, ...place } = at;
        const key = `${addressKey(place)} ${note.pass}`;
        if (seen.has(key)) continue;
        seen.add(key);
        expect(Math.min(...beats.map((b) => Math.abs(b - note.start)))).toBeLessThan(NOTHING);
      }
      expect(seen.size).toBeGreaterThan(0);
    }));

  test('swing moves no bar and no beat', () =>
    law(({ score, settings }, timeline) => {
      const straight = timelineOf(score, { ...settings, swing: 1 });
      const numbered = (t: Timeline) => t.bars.filter((b) => b.number !== undefined).map((b) => b.start);
      const shift =
        settings.countIn === false ? (numbered(timeline)[0] ?? 0) - (numbered(straight)[0] ?? 0) : 0;
      numbered(timeline).forEach((start, i) => {
        expect(start - shift).toBeCloseTo(numbered(straight)[i] ?? -1, 8);
      });
    }));

  test('flicks are flicks, levels are levels', () =>
    law((_, timeline) => {
      for (const note of melodyOf(timeline)) {
        if (note.attack === 'cut' || note.attack === 'strike')
          expect(note.length).toBeLessThanOrEqual(0.05 + NOTHING);
        expect(note.level).toBeGreaterThanOrEqual(0.55);
        expect(note.level).toBeLessThanOrEqual(0.85);
      }
    }));

  test('the same tune and settings give the same timeline', () =>
    law(({ score, settings }, timeline) => {
      expect(timelineOf(score, settings)).toEqual(timeline);
    }));
});

const CORPORA = new URL('../../../shared/data/corpora/', import.meta.url);
const booksAt = (): readonly URL[] =>
  existsSync(CORPORA)
    ? readdirSync(CORPORA, { recursive: true, encoding: 'utf8' })
        .filter((name) => name.endsWith('.abc'))
        .map((name) => new URL(name, CORPORA))
    : [];

/** Every so many tunes of the shared books: enough to meet their oddities, few enough for a unit test. */
const EVERY = 40;

/** On a machine that has other things to do, in milliseconds. */
const TIME_FOR_BOOKS = 120_000;

test.skipIf(!existsSync(CORPORA))(
  'tunes from the shared books are played whatever their oddities',
  () => {
    let played = 0;
    for (const book of booksAt()) {
      const { tunes } = readAbc(readFileSync(book, 'utf8'));
      for (const { score } of tunes.filter((_, i) => i % EVERY === 0)) {
        const bpm = danceOfScore(score).tempo.steady;
        const timeline = timelineOf(score, {
          beatsPerMinute: bpm,
          melody: true,
          backing: chordPlanOf(score),
        });
        expect(outOfOrder(timeline.notes)).toEqual([]);
        expect(overlapping(melodyOf(timeline))).toEqual([]);
        played += 1;
      }
    }
    expect(played).toBeGreaterThan(20);
  },
  TIME_FOR_BOOKS,
);
