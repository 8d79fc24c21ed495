import fc from 'fast-check';
import { expect, test } from 'vitest';
import { plainScoreArbitrary, scoreArbitrary } from '../testing/scoreArbitrary.ts';
import { readAbc, writeAbc } from './index.ts';

const SEED = 20_260_801;

test('reading what was written gives the same score', () => {
  fc.assert(
    fc.property(scoreArbitrary, (score) => {
      const text = writeAbc(score);
      expect(
        readAbc(text).tunes.map((t) => t.score),
        text,
      ).toEqual([score]);
    }),
    { seed: SEED, numRuns: 600 },
  );
});

test('a plain score is written without a problem', () => {
  fc.assert(
    fc.property(plainScoreArbitrary, (score) => {
      const found = readAbc(writeAbc(score)).diagnostics.filter((d) => d.severity !== 'remark');
      expect(found.filter((d) => d.code !== 'below-the-fiddle')).toEqual([]);
    }),
    { seed: SEED, numRuns: 100 },
  );
});
