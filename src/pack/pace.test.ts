import { expect, test } from 'vitest';
import { paceFrom } from './pace.ts';

test.each([
  [10_000, 0.01, null],
  [10_000, 0.25, 30],
  [20_000, 0.5, 20],
  [20_000, 1, 0],
  [20_000, 1.0000001, 0],
])('after %i ms, %f done: %s seconds left', (after, fraction, left) =>
  expect(paceFrom(5000)(fraction, 5000 + after)).toBe(left),
);
