import { expect, test } from 'vitest';
import { whenWords } from './whenWords.ts';

const now = new Date(2026, 10, 26, 15, 30, 0);
const local = (...parts: [number, number, number, number, number]): string =>
  new Date(...parts).toISOString();

test.each([
  [new Date(2026, 10, 26, 15, 29, 30).toISOString(), 'just now'],
  [local(2026, 10, 26, 9, 5), 'today at 9:05'],
  [local(2026, 10, 25, 23, 59), 'yesterday at 23:59'],
  [local(2026, 2, 3, 8, 0), '3 March'],
  [local(2025, 2, 3, 8, 0), '3 March 2025'],
  ['nonsense', ''],
])('%s is said as "%s"', (when, words) => {
  expect(whenWords(when, now)).toBe(words);
});
