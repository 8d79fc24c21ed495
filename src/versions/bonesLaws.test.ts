import { existsSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { randomFrom } from '../core/index.ts';
import { danceOfScore, difficultyOf } from '../fiddle/index.ts';
import { readAbc } from '../notation/index.ts';
import { scoreArbitrary } from '../notation/testing/scoreArbitrary.ts';
import { isFull, notesOf, type Score, titleOf } from '../score/index.ts';
import { bonesOf, DENSITIES, fitOf, plainOf } from './index.ts';
import { lineOf } from './line.ts';

const SEED = { seed: 20261132, numRuns: 40 };

/** Every struck note of a score as "bar/share of the whole note/pitch". */
const strokesOf = (score: Score): ReadonlySet<string> => {
  const line = lineOf(score);
  return new Set(
    line.bars.flatMap((bar, b) => bar.notes.map((n) => `${b}/${(n.at / line.ticks).toFixed(6)}/${n.midi}`)),
  );
};

const lengthsOf = (score: Score): readonly string[] => {
  const line = lineOf(score);
  return line.bars.map((bar) => (bar.length / line.ticks).toFixed(6));
};

/** Each density keeps all that the sparser one keeps, and nothing but plain notes. */
const densitiesAreNested = (plain: Score): void => {
  let sparser: ReadonlySet<string> = new Set();
  for (const density of DENSITIES) {
    const bones = bonesOf(plain, { density });
    const strokes = strokesOf(bones);
    expect([...sparser].filter((stroke) => !strokes.has(stroke))).toEqual([]);
    expect(lengthsOf(bones)).toEqual(lengthsOf(plain));
    sparser = strokes;
  }
  const all = strokesOf(plain);
  expect([...sparser].filter((stroke) => !all.has(stroke))).toEqual([]);
};

test('a fuller density only adds notes, all of them plain ones, on any tune that can be written', () => {
  fc.assert(
    fc.property(scoreArbitrary, (score) => densitiesAreNested(plainOf(score))),
    SEED,
  );
});

const CORPUS = new URL('../../../shared/data/corpora/oneill-1903-odd/tunes.abc', import.meta.url);
/** How many printed tunes are looked at; `npm run measure -- bones` takes them all. */
const SAMPLE = 40;

const printedSample = (): readonly Score[] => {
  const tunes = readAbc(readFileSync(CORPUS, 'utf8')).tunes.filter((t) => notesOf(t.score).length > 0);
  const random = randomFrom(1903);
  return Array.from({ length: SAMPLE }, () => tunes[Math.floor(random.next() * tunes.length)]?.score).filter(
    (score) => score !== undefined,
  );
};

// Material: O'Neill's Music of Ireland, Chicago 1903, where the shared corpora lie beside the checkout.
describe.skipIf(!existsSync(CORPUS))('printed tunes (skipped without ../shared/data/corpora)', () => {
  const sample = existsSync(CORPUS) ? printedSample() : [];
  test.each(sample.map((score) => [`${score.number} ${titleOf(score)}`, score] as const))(
    '%s: bones lie on plain, fit, and are never harder',
    (_, score) => {
      const plain = plainOf(score);
      expect(plainOf(plain)).toEqual(plain);
      densitiesAreNested(plain);
      const bones = bonesOf(plain);
      const full = (s: Score) => s.parts.map((part) => part.bars.map(isFull));
      expect(full(bones)).toEqual(full(score));
      expect(fitOf(bones, plain).fits).toBe(true);
      const dance = danceOfScore(score);
      expect(difficultyOf(bones, { dance }).work).toBeLessThanOrEqual(difficultyOf(plain, { dance }).work);
    },
  );
});
