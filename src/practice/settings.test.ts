import { expect, test } from 'vitest';
import { DEFAULT_SETTINGS, learnTempoOf, lessonOf, practiceDataOf } from '../lesson/index.ts';
import { readAbc } from '../notation/index.ts';
import { linkTo, placeIn } from './placeLink.ts';
import { firstState, stateFrom } from './state.ts';
import { wordingFor } from './words.ts';

const [tune] = readAbc(
  'X:1\nT:Test\nR:reel\nM:4/4\nL:1/8\nK:D\n|:A2|dfdf e2de|f2d2 d2A2|B2d2 A2F2|E2FE D2:|\n',
).tunes;
if (tune === undefined) throw new Error('no tune');
const data = practiceDataOf(lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31' }));
const numbers = [null, 1, 2, 3, 4];
const first = firstState(data);

test('a first state is the simplest version, slowly', () => {
  expect(first.versions).toEqual([data.versions[0]?.id]);
  expect(first.percent).toBe(Math.round((100 * data.dance.tempo.learnBones) / data.tempos.upToSpeed));
});
test('versions together are learnt at the tempo of the lesson, one alone at its own', () => {
  const [bones = '', plain = ''] = data.versions.map(({ id }) => id);
  expect(learnTempoOf(data, [bones])).toBe(data.dance.tempo.learnBones);
  expect(learnTempoOf(data, [plain])).toBe(data.tempos.learn);
  expect(learnTempoOf(data, [bones, plain])).toBe(data.tempos.learn);
  expect(data.dance.tempo.learnBones).not.toBe(data.tempos.learn);
});

test.each([
  {
    link: '#full,bar2-3,loop,at60',
    change: { versions: ['full'], loop: { from: 2, to: 3 }, at: 2, percent: 60 },
  },
  {
    link: '#bones+plain,bar4,at100',
    change: { versions: ['bones', 'plain'], loop: null, at: 4, percent: 100 },
  },
])('$link opens what it was made from', ({ link, change }) => {
  expect(linkTo({ ...first, ...change }, numbers, null)).toBe(link);
  expect(placeIn(link, data, numbers)).toEqual(change);
});

test.each([
  ['#', {}],
  ['#nothing,of,this', {}],
  ['#at5', { percent: 40 }],
  ['#at999', { percent: 110 }],
  ['#bar99,loop', {}],
  ['#measure2', { at: 2, loop: null }],
  ['#%E0%A4%A', {}],
])('%s is read as far as it means something', (hash, wanted) => {
  expect(placeIn(hash, data, numbers)).toEqual(wanted);
});

test.each([
  null,
  7,
  'x',
  [],
  {
    versions: ['nobody'],
    percent: 'fast',
    loop: { from: 3, to: 1 },
    at: 99,
    way: 'sideways',
    rows: 4,
    size: 1e9,
  },
  { versions: ['bones', 'full'], percent: Number.NaN, loop: { from: -1, to: 2 } },
])('what a device kept is taken only where it makes sense: %j', (kept) => {
  expect(stateFrom(kept, first, data, numbers.length)).toEqual(first);
});

test('a state comes back from a device as it was', () => {
  const state = {
    ...first,
    versions: ['plain', 'full'],
    swing: 1.4,
    way: 'turns' as const,
    rows: { ...first.rows, bows: true },
    loop: { from: 1, to: 2 },
  };
  expect(stateFrom(JSON.parse(JSON.stringify(state)), first, data, numbers.length)).toEqual(state);
});

test('words are British or American throughout', () => {
  const spoken = (word: unknown): string => {
    if (typeof word !== 'function')
      return typeof word === 'string' ? word : Object.values(word ?? {}).join(' ');
    // Each is told a number or a name, whichever it takes.
    try {
      return word('Three', 'Three');
    } catch {
      return word(3, 3);
    }
  };
  const said = (words: 'british' | 'us'): string => Object.values(wordingFor(words)).map(spoken).join(' ');
  expect(said('us')).not.toMatch(/\bbars?\b|practis/i);
  expect(said('british')).not.toMatch(/\bmeasure|practice/i);
});
