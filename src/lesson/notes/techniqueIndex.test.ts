import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { readAbc } from '../../notation/index.ts';
import { lessonOf } from '../lesson.ts';
import { DEFAULT_SETTINGS } from '../settings.ts';
import { techniqueIndexOf } from './techniqueIndex.ts';

const named = (name: string) => {
  const text = readFileSync(new URL(`../../../demo/lessons/${name}/tune.abc`, import.meta.url), 'utf8');
  const [tune] = readAbc(text).tunes;
  if (tune === undefined) throw new Error('no tune');
  return { name, lesson: lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-11-26' }) };
};

test('which demo lesson teaches what, and where', () => {
  const index = techniqueIndexOf([named('the-lantern-at-hollin-quay'), named('seven-thimbles')]);
  const told = (technique: string) => {
    const entry = index.find((one) => one.technique === technique);
    return [entry?.name, ...(entry?.lessons.map(({ title, where }) => `${title}: ${where}`) ?? [])];
  };
  expect(told('longRoll')).toEqual([
    'long rolls',
    'The Lantern at Hollin Quay: bars 1, 3, 5, 9 and 13',
    'Seven Thimbles: bar 2',
  ]);
  expect(told('slide')).toEqual(['slides', 'The Lantern at Hollin Quay: bar 11']);
  expect(told('trill')).toEqual(['trills']);
  expect(told('swing').length).toBeLessThanOrEqual(3);
});
test('no lessons: every technique, none taught', () => {
  expect(techniqueIndexOf([]).every(({ lessons }) => lessons.length === 0)).toBe(true);
});
