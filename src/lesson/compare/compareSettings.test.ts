import { describe, expect, test } from 'vitest';
import { readAbc } from '../../notation/index.ts';
import { lessonOf } from '../lesson.ts';
import { DEFAULT_SETTINGS } from '../settings.ts';
import { compareSettings } from './compareSettings.ts';

const lesson = (body: string, key = 'G') => {
  const [tune] = readAbc(`X:1\nT:One\nR:reel\nM:4/4\nL:1/8\nK:${key}\n${body}\n`).tunes;
  if (tune === undefined) throw new Error('no tune');
  return lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-11-26' });
};
const HOME = '|:GABc dedB|c2AF DEFA|GABc dedB|cAFA G4:|';
const compared = (body: string, key?: string) => {
  const { bars, summary, moved } = compareSettings(lesson(HOME), lesson(body, key));
  const told = bars.flatMap(({ first, second, differences }) =>
    differences.map((words) => `${first?.number ?? '-'}/${second?.number ?? '-'} ${words}`),
  );
  return { told, summary, moved };
};

describe('two settings', () => {
  test('alike', () => {
    expect(compared(HOME)).toEqual({ told: [], summary: ['The two settings are alike.'], moved: null });
  });
  test('other notes, another rhythm, an ornament, by bar and beat', () => {
    const { told, summary } = compared('|:GABc dedB|c2BA DEFA|~G3c dedB|cA3/F/A G4:|');
    expect(told).toMatchInlineSnapshot(`
      [
        "2/2 On beat 2: A F♯ in the first, B A in the second.",
        "3/3 On beat 1: G A B in the first, G in the second.",
        "3/3 Only in the second: long roll on beat 1.",
        "4/4 After beat 1: A F♯ in another rhythm.",
      ]
    `);
    expect(summary).toMatchInlineSnapshot(`
      [
        "1 of 4 bars is alike.",
        "Different: bars 2, 3 and 4 of the first.",
      ]
    `);
  });
  test('the same notes bowed otherwise, and other chords where both have some', () => {
    expect(compared('|:(GA)Bc dedB|"G"c2AF DEFA|GABc dedB|cAFA G4:|').told).toEqual([
      '1/1 The same notes, bowed otherwise.',
    ]);
    const [one, other] = [lesson('|:"G"GABc "D"dedB|c8:|'), lesson('|:"G"GABc "C"dedB|c8:|')];
    expect(compareSettings(one, other).bars.flatMap(({ differences }) => differences)).toEqual([
      'Chords: G on beat 1 and D on beat 3 in the first, G on beat 1 and C on beat 3 in the second.',
    ]);
  });
  test('in another key they are compared in the first one', () => {
    const { told, moved } = compared('|:ABcd efec|d2BG EFGB|ABcd efec|dBGB A4:|', 'A');
    expect(told).toEqual([]);
    expect(moved).toEqual({ steps: -1, semitones: -2 });
  });
  test('a bar more', () => {
    const { told, summary } = compared('|:GABc dedB|c2AF DEFA|e2e2 e2ef|GABc dedB|cAFA G4:|');
    expect(told).toEqual(['-/3 The first setting has no such bar.']);
    expect(summary).toEqual(['4 of 5 bars are alike.', 'Only in the second: bar 3.']);
  });
});
