import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readAbc } from '../notation/index.ts';
import { RING_OUT, soundingLength } from '../perform/index.ts';
import {
  DEFAULT_SETTINGS,
  type Lesson,
  type LessonSettings,
  lessonOf,
  plannedChapters,
  runningOrderOf,
  runningOrderText,
  timelineOfTrack,
  trackPlans,
} from './index.ts';

const DEMO = new URL('../../demo/lessons/', import.meta.url);

const TUNE = `X:1
T:Tin Thimble
R:reel
M:4/4
L:1/8
K:G
|:D2|~G3B d2Bd|efge dBAB|G2{a}GB dBAB|(3BBB AF G2:|
|:d2|g2fg edBd|efge dBAB|1 g2fg edBd|efge d2:|2 G2GB dBAB|GBAF G2|]
`;
const lessonWith = (settings: Partial<LessonSettings> = {}, text = TUNE): Lesson => {
  const [tune] = readAbc(text).tunes;
  if (tune === undefined) throw new Error('no tune');
  return lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31', ...settings });
};
const chaptersWith = (settings: Partial<LessonSettings> = {}): readonly string[] =>
  plannedChapters(runningOrderOf(lessonWith(settings))).map(({ title }) => title);

test('the order of a lesson: simplest first, the ornaments before the version that has them', () =>
  expect(chaptersWith()).toEqual([
    'Hello, and where the tune comes from',
    'How it goes',
    'The bones, phrase by phrase',
    'The bones, played',
    'All the notes',
    'The ornaments, one by one',
    'Full version',
    'All three together',
    'Up to speed',
    'Goodbye',
  ]));

test('a lesson without the full version talks of no ornaments', () => {
  const chapters = chaptersWith({ versions: [{ kind: 'bones' }, { kind: 'plain' }] });
  expect(chapters).not.toContain('The ornaments, one by one');
  expect(chapters).toContain('Both together');
});

describe('times', () => {
  const lesson = lessonWith({ story: 'word '.repeat(260) });
  const { segments, length } = runningOrderOf(lesson);
  const lengthIn = (chapter: string, part: 'played' | 'said'): number =>
    segments.filter((s) => s.chapter === chapter).reduce((sum, s) => sum + s[part], 0);

  test('each thing begins where the one before ends', () => {
    let at = 0;
    for (const { start, played, said } of segments) {
      expect(start).toBeCloseTo(at, 9);
      at += played + said;
    }
    expect(length).toBeCloseTo(at, 9);
  });

  test.each([
    ['The bones, played', 'bones-to-learn-bare'],
    ['All three together', 'full-steady-with-backing'],
    ['Up to speed', 'full-up-to-speed-with-backing'],
  ])('%s lasts as long as the track %s', (chapter, slug) => {
    const plan = trackPlans(lesson, 'default').find((p) => p.slug === slug);
    if (plan === undefined) throw new Error(slug);
    expect(lengthIn(chapter, 'played')).toBeCloseTo(soundingLength(timelineOfTrack(lesson, plan)), 9);
  });

  // 260 words of story and 40 of greeting at 130 a minute.
  test('talking is counted in words', () =>
    expect(lengthIn('Hello, and where the tune comes from', 'said')).toBeCloseTo((300 / 130) * 60, 6));

  test('a phrase is played twice and left to the learner twice, counted in: four of its lengths and more', () => {
    const [first] = segments.filter((s) => s.chapter === 'The bones, phrase by phrase');
    const bar = 60 / (lesson.dance.tempo.learnBones / 2);
    expect(first?.bars).toEqual([1, 2]);
    expect(first?.played).toBeGreaterThan(8 * bar);
    expect(first?.played).toBeLessThan(8 * bar + 4 * bar + RING_OUT + 2);
  });

  test('every bar of the tune comes in some phrase or is the same as one that does', () => {
    const taught = segments.filter((s) => s.chapter.endsWith('phrase by phrase')).flatMap((s) => s.bars);
    expect(taught).toEqual([...new Set(taught)]);
    // Bar 6 is bar 2 again, 7 is 5, and 9 is 3 without its grace note.
    expect([...taught].sort((a, b) => a - b)).toEqual([1, 2, 3, 4, 5, 8, 10]);
  });
});

test('a technique that was taught before is pointed to', () => {
  const lesson = lessonWith({ standing: { treble: { see: [{ lesson: 'Seven Thimbles' }] } } });
  expect(runningOrderText(lesson)).toMatch(/point to the lesson \u201cSeven Thimbles\u201d, bar 4/);
});

test('the text says what is counted and what is estimated', () => {
  const text = runningOrderText(lessonWith());
  expect(text).toMatch(
    /^Tin Thimble: running order of the video\n\nAbout \d+ minutes\. .*talking is an estimate .*130 a minute\./,
  );
  expect(text).toMatch(/\n 0:00 Hello, and where the tune comes from \(0:18\)\n/);
  expect(text).toMatch(/set the times anew when the video is cut:\n0:00 Hello/);
});

test('every segment stands in the text once, under its chapter', () => {
  const lesson = lessonWith({ story: 'Heard on a ferry.' });
  const lines = runningOrderText(lesson).split('\n');
  const { segments } = runningOrderOf(lesson);
  expect(lines.filter((line) => /^ {6}\S/.test(line))).toHaveLength(segments.length);
});

test.each(readdirSync(DEMO))('the demo lesson %s has a running order', (name) => {
  const lesson = lessonWith({}, readFileSync(new URL(`${name}/tune.abc`, DEMO), 'utf8'));
  const { segments, length } = runningOrderOf(lesson);
  expect(length).toBeGreaterThan(120);
  for (const { played, said } of segments) expect(played + said).toBeGreaterThan(0);
});
