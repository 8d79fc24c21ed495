import { expect, test } from 'vitest';
import { markOf, tooMany, whenOf } from './checkpoints.ts';

const NOW = new Date('2026-11-25T12:00:00Z');
const ago = (minutes: number): string => markOf(new Date(NOW.getTime() - minutes * 60_000));

test('a mark is its moment', () => {
  expect(markOf(NOW)).toBe('2026-11-25T12-00-00-000Z');
  expect(whenOf(markOf(NOW))).toEqual(NOW);
  expect(whenOf('../lesson.json')).toBeNull();
});

test('all of the last hour stay, one an hour for a day, one a day after', () => {
  const minutes = [1, 2, 30, 59, 65, 70, 110, 125, 1380, 1500, 1600, 3000, 3100];
  const gone = tooMany(minutes.map(ago), NOW);
  // 65, 70 and 110 minutes ago was between ten and eleven; 1500 and 1600 minutes ago the day before, 3000 and 3100 another.
  expect(gone).toEqual([ago(70), ago(110), ago(1600), ago(3100)]);
});

test('thinning again takes nothing more away', () => {
  const marks = Array.from({ length: 400 }, (_, i) => ago(i * 17));
  const once = marks.filter((mark) => !tooMany(marks, NOW).includes(mark));
  expect(tooMany(once, NOW)).toEqual([]);
  expect(once.length).toBeLessThan(40);
});
