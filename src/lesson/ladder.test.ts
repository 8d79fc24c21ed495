import { describe, expect, test } from 'vitest';
import { readAbc } from '../notation/index.ts';
import { notesOf, type Score } from '../score/index.ts';
import { descriptionOf } from './description.ts';
import { togetherName } from './ladder.ts';
import { fullestOf, lessonOf, tempoOf, versionOf } from './lesson.ts';
import { DEFAULT_SETTINGS, type LessonSettings } from './settings.ts';
import { trackPlans } from './trackPlan.ts';
import { ladderProblem, type VersionChoice } from './versionChoice.ts';

const REEL = `X:1
T:A Reel for Testing
R:reel
M:4/4
L:1/8
K:D
|:d2fd A2FA|Bcdf {a}g2fe|d2fd ~A3F|EGBc d4:|
|:fgaf defd|g2bg e2ce|fgaf gfed|cABc d4:|
`;

const lessonWith = (versions: readonly VersionChoice[], settings: Partial<LessonSettings> = {}) => {
  const tune = readAbc(REEL).tunes[0]?.score;
  if (tune === undefined) throw new Error('no tune');
  return lessonOf(tune, { ...DEFAULT_SETTINGS, date: '2026-11-25', ...settings, versions });
};

const FOUR: readonly VersionChoice[] = [
  { kind: 'bones', density: 'barest' },
  { kind: 'bones', density: 'fuller' },
  { kind: 'plain', ornaments: 'main' },
  { kind: 'full' },
];

const graces = (score: Score): number => notesOf(score).filter(({ note }) => note.graces !== null).length;

describe('a lesson has the versions that its teacher lists', () => {
  test.each<{ versions: readonly VersionChoice[]; names: readonly string[] }>([
    { versions: [{ kind: 'bones' }, { kind: 'full' }], names: ['The bones', 'Full version'] },
    { versions: [{ kind: 'plain' }, { kind: 'full' }], names: ['All the notes', 'Full version'] },
    {
      versions: [
        { kind: 'bones', density: 'sparser' },
        { kind: 'bones', density: 'fuller' },
        { kind: 'plain' },
      ],
      names: ['The bones, sparser', 'The bones, fuller', 'All the notes'],
    },
    {
      versions: [{ kind: 'bones', name: 'First steps' }, { kind: 'plain' }, { kind: 'full' }],
      names: ['First steps', 'All the notes', 'Full version'],
    },
  ])('$names', ({ versions, names }) => {
    const lesson = lessonWith(versions);
    expect(lesson.ladder.map((v) => v.name)).toEqual(names);
    expect(new Set(lesson.ladder.map((v) => v.id)).size).toBe(names.length);
    expect(lesson.fits.map(({ simpler, fuller }) => [simpler.name, fuller.name])).toEqual(
      names.slice(1).map((name, i) => [names[i], name]),
    );
  });

  test('four of them grow from step to step', () => {
    const lesson = lessonWith(FOUR);
    const counts = lesson.ladder.map(({ score }) => notesOf(score).length);
    expect([...counts].sort((a, b) => a - b)).toEqual(counts);
    expect(counts[0]).toBeLessThan(counts[1] ?? 0);
    expect(lesson.ladder.map((v) => v.id)).toEqual(['bonesBarest', 'bonesFuller', 'plain', 'full']);
    expect(lesson.ladder.slice(0, 2).map(({ score }) => graces(score))).toEqual([0, 0]);
    expect(lesson.versions.bones).toBe(lesson.ladder[0].score);
    expect(fullestOf(lesson).kind).toBe('full');
  });

  test('each has its tracks, and only the fullest is taken up to speed', () => {
    const lesson = lessonWith(FOUR);
    const plans = trackPlans(lesson, 'default');
    expect(plans.map((p) => p.slug)).toEqual([
      'bones-barest-to-learn-bare',
      'bones-barest-steady-with-backing',
      'bones-fuller-to-learn-bare',
      'bones-fuller-steady-with-backing',
      'plain-to-learn-bare',
      'plain-steady-with-backing',
      'full-to-learn-bare',
      'full-steady-with-backing',
      'full-up-to-speed-with-backing',
      'backing-alone-to-learn',
      'backing-alone-steady',
      'backing-alone-up-to-speed',
    ]);
    expect(plans[0]?.tempos[0]).toBe(tempoOf(lesson, 'learn', 'bones'));
    expect(trackPlans(lessonWith([{ kind: 'plain' }, { kind: 'full' }]), 'default')).toHaveLength(8);
  });

  test('the description counts and names them', () => {
    const text = descriptionOf(lessonWith(FOUR), 'default');
    expect(text).toContain(
      'Four versions that can be played together:\n  The bones, barest: the accented notes',
    );
    expect(text).toContain('  All the notes: every note of the tune, the main ornaments');
    expect([2, 3, 4].map(togetherName)).toEqual(['Both together', 'All three together', 'All four together']);
  });

  test.each<{ versions: readonly VersionChoice[]; problem: RegExp }>([
    { versions: [{ kind: 'full' }], problem: /lists 1; a lesson has 2 to 4 versions/ },
    { versions: [{ kind: 'full' }, { kind: 'bones' }], problem: /bones, then plain, then full/ },
    { versions: [{ kind: 'bones', density: 'fuller' }, { kind: 'bones' }], problem: /no two alike/ },
    { versions: [{ kind: 'bones' }, { kind: 'bones', density: 'usual' }], problem: /no two alike/ },
    { versions: [{ kind: 'full' }, { kind: 'full' }], problem: /two versions that are the same/ },
    {
      versions: [{ kind: 'plain' }, { kind: 'plain', ornaments: 'none' }],
      problem: /two versions that are the same/,
    },
  ])('$problem', ({ versions, problem }) => {
    expect(ladderProblem(versions, 'usual')).toMatch(problem);
    expect(() => lessonWith(versions)).toThrow(RangeError);
  });

  test('a version that the lesson has not got is a mistake of the caller', () => {
    expect(() => versionOf(lessonWith(FOUR), 'bones')).toThrow(RangeError);
  });
});
