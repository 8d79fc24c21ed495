import { describe, expect, test } from 'vitest';
import { foldWords, likeness } from './foldWords.ts';
import type { LessonFacts } from './lessonFacts.ts';
import { allFacts } from './lessonFacts.ts';
import { NEW_SETTINGS } from './lessonTexts.ts';
import { type Searchable, searchIndexOf, searchLessons } from './searchLessons.ts';

const lesson = (id: string, abc: string, changed = 0): Searchable => ({
  id,
  changed,
  facts: allFacts({ texts: { abc, settings: NEW_SETTINGS }, problems: [], lossless: true }, id),
});

const LESSONS = [
  lesson(
    'lantern',
    'X:1\nT:The Lantern at Hollin Quay\nT:Óran na Céibhe\nR:reel\nM:4/4\nL:1/8\nK:G\nGABd edBd|~G3B dBAB|\n',
    3,
  ),
  lesson('coat', "X:1\nT:The Ferryman's Wet Coat\nR:jig\nM:6/8\nL:1/8\nK:Ador\nABc edc|{d}BAG A3|\n", 2),
  lesson('stairs', 'X:1\nT:Ælfhild’s Stairs\nR:reel\nM:4/4\nL:1/8\nK:A\nABce fece|ABcA e4|\n', 1),
];
const INDEX = searchIndexOf(LESSONS);
const found = (words: string) => searchLessons(words, INDEX).map(({ id }) => id);
const why = (words: string) => searchLessons(words, INDEX).map((f) => `${f.id}: ${f.why}`);

describe('words', () => {
  test.each([
    ["The Ferryman's Wet Coat", ['the', 'ferrymans', 'wet', 'coat']],
    ['Óran na Céibhe', ['oran', 'na', 'ceibhe']],
    ['Ælfhild’s  STAIRS!', ['aelfhilds', 'stairs']],
    ['…', []],
  ])('of "%s"', (text, words) => expect(foldWords(text)).toEqual(words));

  test.each([
    ['lantern', 'lantern', 1],
    ['lan', 'lantern', 0.8],
    ['lantren', 'lantern', 0.5],
    ['lanterm', 'lantern', 0.5],
    ['lntern', 'lantern', 0.5],
    ['lanntern', 'lantern', 0.5],
    ['lanret', 'lantern', 0],
    ['lamter', 'lantern', 0.3],
    ['cot', 'coat', 0],
    ['coat', 'lantern', 0],
  ])('"%s" is like "%s" by %d', (typed, word, like) => expect(likeness(typed, word)).toBe(like));
});

describe('lessons are found', () => {
  test('without words the last changed first', () => {
    expect(found('')).toEqual(['lantern', 'coat', 'stairs']);
    expect(found('   ')).toEqual(['lantern', 'coat', 'stairs']);
  });
  test.each([
    ['LANTERN', ['lantern']],
    ['hollin lantren', ['lantern']],
    ['oran ceibhe', ['lantern']],
    ['ferrymans', ['coat']],
    ["ferryman's coat", ['coat']],
    ['aelfhild', ['stairs']],
    ['reel', ['lantern', 'stairs']],
    ['reel a major', ['stairs']],
    ['jig reel', []],
    ['nothing of the kind', []],
  ])('by "%s"', (words, ids) => expect(found(words)).toEqual(ids));
  test('and say why', () => {
    expect(why('oran')).toEqual(['lantern: Óran na Céibhe']);
    expect(why('G major')).toEqual(['lantern: G major']);
    expect(why('roll')).toEqual(['lantern: long roll']);
    expect(why('cut')).toEqual(['coat: cut']);
    expect(why('grace note')).toEqual(['coat: cut']);
    expect(why('lantern')).toEqual(['lantern: ']);
  });
});

describe('notes are found', () => {
  test.each([
    [
      'as they are, and in another key',
      'GABd',
      ['lantern: These notes', 'stairs: These notes, in A major', 'coat: These notes, in A Dorian'],
    ],
    ['typed apart', 'G A B d e', ['lantern: These notes', 'stairs: These notes, in A major']],
    [
      'all large, each where it is nearest',
      'GABDEDB',
      ['lantern: These notes', 'stairs: These notes, in A major'],
    ],
    ['with sharps that the key has', 'ABcefeceAB', ['stairs: These notes']],
    ['with sharps as they are written', 'AB^ce^feceAB', ['stairs: These notes']],
    [
      "in the tune's middle, bar lines and lengths do not matter",
      'e2d|B-d',
      ['lantern: These notes', 'stairs: These notes, in A major'],
    ],
    ['in minor modes', 'ABcedcBA', ['coat: These notes']],
  ])('%s', (_, typed, answers) => expect(why(typed)).toEqual(answers));
  test('three are too few, and a word is a word', () => {
    expect(found('GAB')).toEqual([]);
    expect(found('bead')).toEqual([]);
  });
});

/** Titles of made-up words, so that many lessons have many different words. */
const SYLLABLES = [
  'bra',
  'mul',
  'ten',
  'dor',
  'fi',
  'gos',
  'hal',
  'kin',
  'lo',
  'nar',
  'pel',
  'ri',
  'sto',
  'vu',
  'wex',
];
const wordOf = (n: number): string =>
  [n % 15, Math.floor(n / 15) % 15, Math.floor(n / 225) % 15].map((i) => SYLLABLES[i]).join('');

test('5,000 lessons are searched in 50 ms at most', () => {
  const facts = (n: number): LessonFacts => ({
    title: `The ${wordOf(n * 7)} of ${wordOf(n * 13 + 5)}`,
    otherTitles: n % 3 === 0 ? [`${wordOf(n * 17)} ${wordOf(n)}`] : [],
    dance: ['reel', 'jig', 'hornpipe', 'polka'][n % 4] ?? '',
    key: ['G major', 'D major', 'A Dorian', 'E minor'][n % 4] ?? '',
    versions: [],
    difficulty: 'moderate',
    techniques: n % 2 === 0 ? ['longRoll', 'cut'] : ['treble'],
    notes: Array.from({ length: 240 }, (_, i) => 62 + ((n * 31 + i * i * 7 + i) % 19)),
    broken: null,
    complete: true,
  });
  const lessons = Array.from({ length: 5000 }, (_, n) => ({ id: String(n), changed: n, facts: facts(n) }));
  searchIndexOf(lessons);
  const times: number[] = [];
  for (const words of [
    '',
    'r',
    'reel',
    'G major roll',
    'bramulten',
    'bramultne of',
    'GABd',
    'EFGABcde',
    'zzzz zzzz',
  ]) {
    const runs = Array.from({ length: 5 }, () => {
      const began = performance.now();
      // Also right after a save, which makes the index anew.
      searchLessons(words, searchIndexOf(lessons));
      return performance.now() - began;
    });
    times.push(Math.min(...runs));
  }
  expect(Math.max(...times)).toBeLessThan(50);
});
