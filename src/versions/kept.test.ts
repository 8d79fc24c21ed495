import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readAbcBar } from '../notation/index.ts';
import { readOne } from '../notation/testing/readOne.ts';
import { scoreArbitrary } from '../notation/testing/scoreArbitrary.ts';
import { barsOf, type Event, fingerprintOf, type Score } from '../score/index.ts';
import { bonesOf, deriveVersions, fitOf, type KeptVerdict, plainOf, withKeptBars } from './index.ts';

const REEL = 'R:reel\nM:4/4\nL:1/8\nK:D';
const MUSIC = '|:D2FA dAFA|Bcdf e2AF|D2FA dAFA|gfec d2d2-|d2fd gfed|dcBA D4:|';

const typed = (text: string, score: Score): readonly Event[] => {
  const read = readAbcBar(text, { key: score.key, metre: score.metre, unit: score.unit });
  if (read.kind !== 'bar') throw new Error(JSON.stringify(read.diagnostics));
  return read.events;
};

interface Kept {
  readonly before: Score;
  readonly plain: Score;
  readonly score: Score;
  readonly verdicts: readonly KeptVerdict[];
}

const keep = (music: string, bars: Readonly<Record<number, string>>): Kept => {
  const { bones, plain } = deriveVersions(readOne(music, REEL).score);
  const kept = Object.entries(bars).map(([bar, text]) => ({
    part: 'A',
    bar: Number(bar),
    events: typed(text, plain),
  }));
  return { before: bones, plain, ...withKeptBars(bones, plain, kept) };
};

const barsIn = (score: Score): readonly string[] => barsOf(score).map(({ bar }) => fingerprintOf(bar));

describe('a kept bar takes the place of the derived one', () => {
  test('and nothing else changes, equal bars included', () => {
    const { before, score, verdicts } = keep(MUSIC, { 0: 'D4 d4' });
    expect(verdicts).toEqual([{ kind: 'inForce', clashes: [], newOnsets: [] }]);
    expect(barsIn(score)).toEqual(barsIn(before).with(0, 'D4:1/2 D5:1/2'));
  });
  test('a bar of another length is not in force, and says both lengths', () => {
    const { before, score, verdicts } = keep(MUSIC, { 0: 'D2 d4' });
    expect(score).toBe(before);
    expect(verdicts).toEqual([{ kind: 'wrongLength', kept: { num: 3, den: 4 }, plain: { num: 1, den: 1 } }]);
  });
  test('there is no such bar', () => {
    expect(keep(MUSIC, { 17: 'D8' }).verdicts).toEqual([{ kind: 'noBar' }]);
  });
  test.each([
    ['c4 e4', 'held against it', { beat: 2, held: { step: 'C' }, struck: { step: 'D' } }],
    [
      'B2 ^d2 e4',
      'struck with it',
      { beat: 2, held: { step: 'D', alter: 1 }, struck: { step: 'D', alter: 0 } },
    ],
  ])('a clash on a beat is told, and the bar stays: %s is %s', (text, _, clash) => {
    const { before, score, verdicts } = keep(MUSIC, { 1: text });
    expect(barsIn(score)[1]).not.toBe(barsIn(before)[1]);
    expect(verdicts).toMatchObject([{ kind: 'inForce', newOnsets: [], clashes: [clash] }]);
  });
  test('notes that the plain version has not got are told', () => {
    expect(keep(MUSIC, { 1: 'B2 d2 e>A A2' }).verdicts).toMatchObject([
      { kind: 'inForce', newOnsets: [{ num: 11, den: 16 }] },
    ]);
  });
});

describe('ties into and out of a kept bar', () => {
  test('a note that was tied over stays tied where its pitch stays', () => {
    const { before, score } = keep(MUSIC, { 3: 'g2e2 d4' });
    expect(barsIn(before)[3]).toMatch(/D5:\S+-$/);
    expect(barsIn(score)[3]).toBe('G5:1/4 E5:1/4 D5:1/2-');
  });
  test('another pitch leaves no tie behind, and the next bar strikes its note', () => {
    const { plain, score } = keep(MUSIC, { 3: 'g2f2 e4' });
    expect(barsIn(score)[3]).toBe('G5:1/4 F#5:1/4 E5:1/2');
    expect(fitOf(score, plain).unlikeBars).toEqual([]);
  });
  test('a tie that would lead into another pitch is taken from the bar before', () => {
    const { score } = keep(MUSIC, { 4: 'f4 g4' });
    expect(barsIn(score).slice(3, 5)).toEqual([expect.stringMatching(/D5:1\/4$/), 'F#5:1/2 G5:1/2']);
  });
  test('a tie that was typed leads on, or goes where it leads nowhere', () => {
    expect(barsIn(keep(MUSIC, { 0: 'D4 d4-' }).score)[0]).toBe('D4:1/2 D5:1/2');
    expect(barsIn(keep(MUSIC, { 4: 'd4 d4-' }).score)[4]).toBe('D5:1/2 D5:1/2-');
  });
});

test('signs of the form stay where they were', () => {
  const { bones, plain } = deriveVersions(readOne('!segno!D2FA dAFA|gfec !fine!d4|', REEL).score);
  const { score } = withKeptBars(bones, plain, [{ part: 'A', bar: 0, events: typed('D4 F4', plain) }]);
  expect(barsOf(score)[0]?.bar.events[0]?.marks).toEqual(['segno']);
});

test('a bar kept as it was derived changes nothing, in any tune', () => {
  let kept = 0;
  fc.assert(
    fc.property(scoreArbitrary, fc.nat(), (written, pick) => {
      const plain = plainOf(written);
      const bones = bonesOf(plain);
      const bars = barsOf(bones).filter(({ bar }) => bar.events.length > 0);
      const one = bars[pick % Math.max(1, bars.length)];
      if (one === undefined) return;
      const { score, verdicts } = withKeptBars(bones, plain, [
        { part: one.part, bar: one.index, events: one.bar.events },
      ]);
      expect(verdicts).toMatchObject([{ kind: 'inForce', clashes: [], newOnsets: [] }]);
      expect(barsIn(score)).toEqual(barsIn(bones));
      kept += 1;
    }),
    { seed: 20261125, numRuns: 100 },
  );
  expect(kept).toBeGreaterThan(50);
});
