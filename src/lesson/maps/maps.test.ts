import { describe, expect, test } from 'vitest';
import { readAbc } from '../../notation/index.ts';
import { barsOf, type Score } from '../../score/index.ts';
import { deriveVersions } from '../../versions/index.ts';
import {
  boxWords,
  capoHintOf,
  capoWords,
  DEFAULT_SETTINGS,
  fingerMapOf,
  fingerMapRemarks,
  fingerMapStrings,
  lessonOf,
  phraseMapOf,
  phraseMapSummary,
  stepWords,
} from '../index.ts';

const scoreOf = (key: string, body: string): Score => {
  const [tune] = readAbc(`X:1\nT:A test\nR:reel\nM:4/4\nL:1/8\nK:${key}\n${body}\n`).tunes;
  if (tune === undefined) throw new Error(body);
  return tune.score;
};

describe('the finger map', () => {
  // Common practice: the fingers of first position, as every tutor for the instrument has them.
  test.each([
    ['D', 'F2c2 d4|', 'Every second finger is high: F♯ on the D string and C♯ on the A string.'],
    [
      'G',
      'F2c2 g4|',
      'The second finger is high for F♯ on the D string, low for C on the A string and G on the E string.',
    ],
    ['F', 'f4 c4|', 'F on the E string is a low first finger.'],
    ['A', 'A4 ^d4|', 'D♯ on the A string is a high third finger.'],
    ['Bb', 'A4 e4|', 'E♭ on the A string is a low fourth finger.'],
    ['C', "b4 c'4|", 'C on the E string is a stretched fourth finger.'],
    ['D', '=c2^c2 d4|', 'On the A string the second finger has two places: C and C♯.'],
    ['G', 'G,8|', 'The whole tune lies on the G string.'],
  ])('in %s, %s: %s', (key, body, remark) =>
    expect(fingerMapRemarks(fingerMapOf(scoreOf(key, body)), 'british')).toContain(remark),
  );
  test('the notes of the key lie on all four strings, those of the tune are marked, grace notes are not', () => {
    const map = fingerMapOf(scoreOf('G', 'G2{a}B2 d4|'));
    expect(
      map.dots.filter((d) => d.inTune).map((d) => `${d.pitch.step}${d.pitch.octave} ${d.string}${d.finger}`),
    ).toEqual(['G4 D3', 'B4 A1', 'D5 A3']);
    expect(map.dots).toHaveLength(20);
    expect(map.dots.every((d) => d.inKey)).toBe(true);
    expect(fingerMapStrings(map)).toEqual(['A string: B first, D third.']);
  });
});

const ABAC = `|:dAFA DFAd|B2d2 A4|dAFA DFAd|B2d2 e4|
dAFA DFAd|B2d2 {c}A4|ecBc Acec|d8:|`;

describe('the phrase map', () => {
  const score = scoreOf('D', ABAC);
  const map = phraseMapOf(deriveVersions(score, {}).plain, score);
  test('says which bars are the same, and which nearly', () => {
    expect(map.bars.map((b) => b.likeness.kind)).toEqual([
      'new',
      'new',
      'same',
      'begins',
      'same',
      'same',
      'new',
      'new',
    ]);
    expect(map.bars[5]?.likeness).toEqual({ kind: 'same', as: 1, dressed: true });
    expect(map.bars.map((b) => boxWords(map, b).join(', '))).toEqual([
      '',
      '',
      '= 1',
      'begins as 2',
      '= 1',
      '= 2, other ornaments',
      '',
      '',
    ]);
    expect(phraseMapSummary(map, 'british')).toBe('Eight bars, five of them different.');
    expect(phraseMapSummary(map, 'us')).toBe('Eight measures, five of them different.');
  });
  test('begins with the hook, goes on with what brings most, and counts what is known', () =>
    expect(map.steps.map((s) => stepWords(map, s, 'british'))).toEqual([
      'Bars 1 and 2; you then have bars 3, 5 and 6 too.',
      'Bar 4 begins as bar 2 and goes on otherwise.',
      'Bars 7 and 8. That is the whole of part A.',
    ]));
  test('knows a figure on other notes', () => {
    const moved = phraseMapOf(scoreOf('D', 'dfaf dfaf|cege cege|'), scoreOf('D', 'dfaf dfaf|cege cege|'));
    expect(moved.bars[1]?.likeness).toEqual({ kind: 'moved', as: 0, steps: -1 });
  });
  test('every counted bar is learnt in a step, once', () => {
    const fresh = map.steps.flatMap((s) => s.fresh);
    expect(new Set(fresh).size).toBe(fresh.length);
    expect(fresh).toHaveLength(map.different);
    expect(map.bars.every((b) => b.step >= 1)).toBe(true);
    expect(map.bars).toHaveLength(barsOf(score).filter((b) => b.bar.number !== null).length);
  });
});

// Common practice: the shapes that guitarists hold with open strings, and the capo that brings a key to them.
test.each([
  ['G', '"G"G4"C"c4|"D7"d8|', 'Guitar: no capo; all its chords are open shapes.'],
  ['D', '"D"d8|"G"g4"A"e4|"D"d8|"Bm"B4"A"e4|', 'Guitar: no capo; only Bm needs a barre.'],
  [
    'F',
    '"F"f8|"Bb"B8|"C"c8|"F"f8|',
    'Guitar: capo at the 3rd fret, D shapes: F is held as D, B♭ as G and C as A.',
  ],
  [
    'Gdor',
    '"Gm"G8|"F"f8|"Gm"G8|"C"c8|',
    'Guitar: capo at the 3rd fret, Em shapes: Gm is held as Em, F as D and C as A.',
  ],
])('in %s, %s: %s', (key, body, words) => {
  const lesson = lessonOf(scoreOf(key, body), { ...DEFAULT_SETTINGS, date: '2026-01-31' });
  const hint = capoHintOf(lesson.chords, lesson.written.key);
  expect(hint === null ? '' : capoWords(hint)).toBe(words);
});
