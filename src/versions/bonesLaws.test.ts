import { existsSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { randomFrom } from '../core/index.ts';
import { danceOfScore, difficultyOf } from '../fiddle/index.ts';
import { readAbc } from '../notation/index.ts';
import { readOne } from '../notation/testing/readOne.ts';
import { scoreArbitrary } from '../notation/testing/scoreArbitrary.ts';
import { barsOf, fingerprintOf, isFull, notesOf, type Score, titleOf } from '../score/index.ts';
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

/** Pairs of bars that are equal in the first score and differ in the second, as "1 and 3". */
const driftedApart = (plain: Score, bones: Score): readonly string[] => {
  const first = new Map<string, number>();
  const thin = barsOf(bones).map(({ bar }) => fingerprintOf(bar));
  return barsOf(plain).flatMap(({ bar }, i) => {
    const twin = first.get(fingerprintOf(bar)) ?? i;
    first.set(fingerprintOf(bar), twin);
    return thin[twin] === thin[i] ? [] : [`${twin + 1} and ${i + 1}`];
  });
};

/** A bar of the metre in quavers, some of them joined to crotchets. */
const barArbitrary = (quavers: number): fc.Arbitrary<string> =>
  fc
    .array(fc.tuple(fc.constantFrom(...'DEFGABcdefga'), fc.integer({ min: 0, max: 3 })), {
      minLength: quavers,
      maxLength: quavers,
    })
    .map((notes) => {
      let text = '';
      for (let i = 0; i < notes.length; i += 1) {
        const [letter, roll] = notes[i] ?? ['D', 1];
        const joined = roll === 0 && i + 1 < notes.length;
        text += joined ? `${letter}2` : letter;
        if (joined) i += 1;
      }
      return text;
    });

/** A tune of up to eight bars made of at most three different ones. */
const repeatingTune: fc.Arbitrary<Score> = fc
  .constantFrom(
    { header: 'R:reel\nM:4/4', quavers: 8 },
    { header: 'R:jig\nM:6/8', quavers: 6 },
    { header: 'R:waltz\nM:3/4', quavers: 6 },
    { header: 'R:polka\nM:2/4', quavers: 4 },
  )
  .chain(({ header, quavers }) =>
    fc
      .tuple(
        fc.array(barArbitrary(quavers), { minLength: 1, maxLength: 3 }),
        fc.array(fc.nat(2), { minLength: 2, maxLength: 8 }),
      )
      .map(([bars, order]) => {
        const text = order.map((i) => bars[i % bars.length]).join('|');
        return readOne(`${text}|]`, `${header}\nL:1/8\nK:D`).score;
      }),
  );

/** A hundred tunes on a machine that has other things to do, in milliseconds. */
const TIME_FOR_ALL = 120_000;

test(
  'bars that are equal have equal bones at every density, whatever stands around them',
  () => {
    fc.assert(
      fc.property(repeatingTune, fc.constantFrom(...DENSITIES), (score, density) => {
        const plain = plainOf(score);
        expect(driftedApart(plain, bonesOf(plain, { density }))).toEqual([]);
      }),
      { ...SEED, numRuns: 100 },
    );
  },
  TIME_FOR_ALL,
);

// One note had to go from a tune of figures that all want to stay, and it went from one of two equal bars.
test('a last note that has to go goes from all equal bars (regression)', () => {
  const plain = plainOf(
    readOne('d2fd A2FA|g2bg e2ce|d2fd A2FA|e2ce d4|]', 'R:reel\nM:4/4\nL:1/8\nK:D').score,
  );
  const bones = bonesOf(plain);
  expect(driftedApart(plain, bones)).toEqual([]);
  expect(notesOf(bones).length).toBeLessThan(notesOf(plain).length);
});

const CORPUS = new URL('../../../shared/data/corpora/oneill-1903-odd/tunes.abc', import.meta.url);
/** How many printed tunes are looked at; `npm run measure -- bones` takes them all. */
const SAMPLE = 20;

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
