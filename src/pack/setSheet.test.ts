import { expect, test } from 'vitest';
import { engraveSetSheet, loadEngraver } from '../engrave/index.ts';
import { DEFAULT_SETTINGS, fullestOf, lessonOf, withWay } from '../lesson/index.ts';
import { setOf } from '../sets/index.ts';
import { DEMO_LESSONS, demoLesson, usualPlan } from '../sets/testing/demoLessons.ts';
import { setSheetPlanOf } from './setSheetPlanOf.ts';

const LESSONS = DEMO_LESSONS.map(demoLesson);
const sheetOf = async (count: number) => {
  const set = setOf(LESSONS.slice(0, count), usualPlan(count));
  return engraveSetSheet(setSheetPlanOf(set, DEFAULT_SETTINGS.papers[0] ?? 'A4'), await loadEngraver());
};
/** What is read on a page, in order. */
const wordsOn = (svg: string): readonly string[] =>
  [...svg.matchAll(/<text[^>]*>(?:<tspan[^>]*>)?([^<]*)/g)].map(([, text = '']) => text);
const notesOn = (svg: string): number =>
  [...svg.matchAll(/id="[^"]*" class="note"|href="#gE0A[24]"/g)].length;

test('two tunes fit one page, each with its title, and the bar that leads on between them', async () => {
  const pages = await sheetOf(2);
  expect(pages).toHaveLength(1);
  const svg = pages[0]?.svg ?? '';
  const words = wordsOn(svg);
  const at = (text: string): number => words.findIndex((word) => word.startsWith(text));
  expect(at('The Lantern at Hollin Quay')).toBeGreaterThanOrEqual(0);
  expect(words.filter((word) => word === 'last')).toHaveLength(1);
  const into = words.findIndex((word) => word.startsWith('into'));
  expect(into).toBeGreaterThan(0);
  expect(words.filter((word) => word.startsWith('The Ferryman')).length).toBeGreaterThanOrEqual(1);
  expect(words.join(' ')).toContain('twice through');
  expect(notesOn(svg)).toBeGreaterThan(100);
});
test('four tunes are not parted by a page', async () => {
  const pages = await sheetOf(4);
  expect(pages).toHaveLength(2);
  const titles = pages.map(({ svg }) =>
    wordsOn(svg).filter((word) =>
      LESSONS.some((lesson) => lesson.written.fields.some((f) => f.code === 'T' && f.value === word)),
    ),
  );
  expect(titles.map((on) => on.length)).toEqual([2, 2]);
});
test('other ways to play bars stand under their own tune, named, before the bar that leads on', async () => {
  const [first, second] = LESSONS;
  if (first === undefined || second === undefined) throw new Error('no demo lessons');
  const fullest = fullestOf(first);
  const part = fullest.score.parts[0];
  const at = part?.bars.findIndex((bar) => bar.number === 2) ?? -1;
  const events = part?.bars[at]?.events ?? [];
  const attached = withWay(first, {
    version: fullest.id,
    part: part?.label ?? '',
    bar: at,
    events,
    played: 'secondTimes',
    printed: true,
  });
  const own = lessonOf(first.written, { ...first.settings, ...attached });
  const set = setOf([own, second], usualPlan(2));
  const pages = engraveSetSheet(setSheetPlanOf(set, 'A4'), await loadEngraver());
  const without = await sheetOf(2);
  expect(pages).toHaveLength(without.length);
  const words = wordsOn(pages[0]?.svg ?? '');
  const small = words.indexOf('Bar 2, the second time');
  expect(small).toBeGreaterThan(0);
  expect(small).toBeLessThan(words.indexOf('last'));
  expect(notesOn(pages[0]?.svg ?? '')).toBeGreaterThan(notesOn(without[0]?.svg ?? ''));
});
