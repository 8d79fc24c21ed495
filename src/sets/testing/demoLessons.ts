import { readFileSync } from 'node:fs';
import { DEFAULT_SETTINGS, type Lesson, lessonOf } from '../../lesson/index.ts';
import { readAbc } from '../../notation/index.ts';
import type { SetPlan } from '../index.ts';

/** A lesson of a tune as text. */
export const lessonOfAbc = (text: string): Lesson => {
  const [tune] = readAbc(text).tunes;
  if (tune === undefined) throw new Error('no tune');
  return lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-11-26' });
};

/** A demo lesson by the name of its folder. */
export const demoLesson = (name: string): Lesson =>
  lessonOfAbc(readFileSync(new URL(`../../../demo/lessons/${name}/tune.abc`, import.meta.url), 'utf8'));

/** The demo lessons: a reel, a jig, a slip jig without a pick-up, a hornpipe. */
export const DEMO_LESSONS = [
  'the-lantern-at-hollin-quay',
  'the-ferrymans-wet-coat',
  'seven-thimbles',
  'the-left-handed-lamplighter',
] as const;

/** A set in which nothing is as asked for but the number of tunes. */
export const usualPlan = (tunes: number): SetPlan => ({
  title: '',
  version: null,
  tunes: Array.from({ length: tunes }, () => ({ times: 2, tempos: {}, turn: null })),
});
