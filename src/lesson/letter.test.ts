import { describe, expect, test } from 'vitest';
import { readAbc } from '../notation/index.ts';
import {
  type Audience,
  audienceOf,
  DEFAULT_SETTINGS,
  GROUPS,
  isFor,
  type Lesson,
  type LessonSettings,
  lessonOf,
  letterOf,
} from './index.ts';

const lessonWith = (settings: Partial<LessonSettings> = {}): Lesson => {
  const [tune] = readAbc(
    'X:1\nT:Tin Thimble\nC:Wren Aldercott\nR:reel\nM:4/4\nL:1/8\nK:G\n|:GABc dedB|dedB dedB|GABc dedB|AGFA G4:|\n',
  ).tunes;
  if (tune === undefined) throw new Error('no tune');
  return lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31', teacher: 'Ada Fell', ...settings });
};

describe('whom a part is for', () => {
  test.each<readonly [Record<string, Audience>, string, Audience]>([
    [{}, 'sheet/plain/a4', 'public'],
    [{}, 'sheet/plainOrnamented/a4', 'subscribers'],
    [{}, 'sheet/bones/letter', 'subscribers'],
    [{}, 'text/midi', 'supporters'],
    [{}, 'something/else', 'teacher'],
    [{ sheet: 'supporters' }, 'sheet/plain/a4', 'supporters'],
    [{ sheet: 'supporters', 'sheet/bones': 'public' }, 'sheet/bones/a4', 'public'],
    [{ track: 'teacher', 'track/bones-to-learn-bare': 'public' }, 'track/bones-to-learn-bare', 'public'],
  ])('%j: %s is for %s', (choice, id, audience) => expect(audienceOf(choice, id)).toBe(audience));

  test('each group gets all that those before it get, and nobody gets what is the teacher\u2019s', () => {
    const gets = (audience: Audience) => GROUPS.filter((group) => isFor(group, audience));
    expect(gets('public')).toEqual(['public', 'subscribers', 'supporters']);
    expect(gets('subscribers')).toEqual(['subscribers', 'supporters']);
    expect(gets('supporters')).toEqual(['supporters']);
    expect(gets('teacher')).toEqual([]);
  });
});

const PARTS = [
  { id: 'sheet/bones/a4', what: 'sheet: The bones, A4' },
  { id: 'sheet/plain/a4', what: 'sheet: All the notes, A4' },
  { id: 'sheet/plain/letter', what: 'sheet: All the notes, Letter' },
  { id: 'page/fingerMap/a4', what: 'finger map, A4' },
  { id: 'track/bones-to-learn-bare', what: 'track: The bones, to learn, bare (0:29)' },
  { id: 'text/practice', what: 'practice page' },
  { id: 'text/midi', what: 'MIDI' },
];

test('a letter to subscribers: tune, parcel, how to begin, what others get, credit', () => {
  expect(
    letterOf(lessonWith({ story: 'Heard on a ferry.' }), 'subscribers', PARTS),
  ).toBe(`Subject: Tin Thimble

Hello,

here is Tin Thimble: reel in G major, 4 bars, 8 as played.

Heard on a ferry.

In the parcel:
- the practice page: save practice.html and open it in a browser; it shows and plays every version at any tempo
- the sheets \u201cThe bones\u201d and \u201cAll the notes\u201d, on A4 and Letter
- a play-along track

How to begin: open the practice page and take \u201cThe bones\u201d first, at minim = 42. First: bars 1 and 2; you then have bar 3 too. Bar 2 ends as bar 1 does.

Rest often, vary what you play and stop at pain; if it stays, see a teacher or a clinician. Keep headphones moderate.

For supporters there are also:
- drawn pages: finger map
- the tune for music programs: MIDI

Tune: Wren Aldercott
A traditional tune is free; a living composer's tune, a recording or a printed edition may not be. Check the law and the licences where you live.

Ada Fell
`);
});

test('a letter says how to begin with what is in the parcel', () => {
  const begin = (settings: Partial<LessonSettings>) =>
    /How to begin: .*/.exec(letterOf(lessonWith(settings), 'public', PARTS))?.[0];
  expect(begin({})).toMatch(/take the sheet \u201cAll the notes\u201d and begin slowly, at minim = \d+\./);
  expect(begin({ audiences: { track: 'public' } })).toMatch(/begin with this track: The bones, to learn/);
  expect(begin({ audiences: { sheet: 'teacher' } })).toBeUndefined();
});

test('nothing that is for others stands in a parcel\u2019s list', () => {
  const letter = letterOf(lessonWith(), 'public', PARTS);
  const [own = '', others = ''] = letter.split('How to begin');
  expect(own).not.toMatch(/practice page|track|MIDI/);
  expect(others).toMatch(/For subscribers there are also:\n- the practice page/);
});
