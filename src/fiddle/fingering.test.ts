import { describe, expect, test } from 'vitest';
import { pitch } from '../music/index.ts';
import type { Note, Score } from '../score/index.ts';
import { fingeringOf, TUNINGS } from './index.ts';
import { tuneOf } from './testing/tuneOf.ts';

/** String and finger of every note: "A3"; above first position with the position behind it. */
const hand = (score: Score, options = {}): string =>
  fingeringOf(score, options)
    .map((f) => `${f.string}${f.finger}${f.position > 1 ? `p${f.position}` : ''}`)
    .join(' ');

const withEvents = (score: Score, change: (note: Note, index: number) => Note): Score => ({
  ...score,
  parts: score.parts.map((part) => ({
    ...part,
    bars: part.bars.map((bar) => ({
      ...bar,
      events: bar.events.map((e, i) => (e.kind === 'note' ? change(e, i) : e)),
    })),
  })),
});

describe('scales in first position', () => {
  // Source: TNUA violin fingering data set (Jen et al., IUI 2021, doi 10.1145/3397481.3450661), first position, the finger
  // that most of ten professionals chose: G string 0 1 2 2 3 3, D string 0 1 1 2 2 3 3, A string 0 1 1 2 2 3 3, E string
  // 0 1 1 2 2 3 4 4. A4 and E5: open .75 and .61.
  test.each([
    ['G string', 'G3 A3 Bb3 B3 C4 C#4', 'G0 G1 G2 G2 G3 G3'],
    ['D string', 'D4 Eb4 E4 F4 F#4 G4 G#4', 'D0 D1 D1 D2 D2 D3 D3'],
    ['A string', 'A4 Bb4 B4 C5 C#5 D5 D#5', 'A0 A1 A1 A2 A2 A3 A3'],
    ['E string', 'E5 F5 F#5 G5 G#5 A5 Bb5 B5', 'E0 E1 E1 E2 E2 E3 E4 E4'],
  ])('%s, one long note after another', (_, notes, expected) => {
    const slow = notes.split(' ').map((n) => `${n}:1/1`);
    expect(hand(tuneOf(slow))).toBe(expected);
  });
  test('a running scale up and down takes the open strings', () => {
    expect(hand(tuneOf(['D4 E4 F#4 G4 A4 B4 C#5 D5', 'D5 C#5 B4 A4 G4 F#4 E4 D4']))).toBe(
      'D0 D1 D2 D3 A0 A1 A2 A3 A3 A2 A1 A0 D3 D2 D1 D0',
    );
  });
});

describe('open string or fourth finger', () => {
  // Common practice: the fourth finger saves a crossing there and back in a run; else fiddlers take the open string.
  test.each([
    ['there and back in a run', 'C#5 D5 E5 D5 C#5 B4 A4:1/4', 'A2 A3 A4 A3 A2 A1 A0'],
    ['on the way up', 'C#5 D5 E5 F#5 G5 F#5 E5:1/4', 'A2 A3 E0 E1 E2 E1 E0'],
    ['with time to spare', 'D5:1/4 E5:1/4 D5:1/2', 'A3 E0 A3'],
  ])('%s', (_, bar, expected) => expect(hand(tuneOf([bar]))).toBe(expected));
  test('a roll is played neither on the open string nor avoided by the fourth finger', () => {
    const rolled = withEvents(tuneOf(['B4:1/4 D5:1/4 B4:1/2']), (n, i) =>
      i === 2 ? { ...n, signs: ['roll'] } : n,
    );
    expect(hand(rolled)).toBe('A1 A3 A1');
  });
});

describe('what is written stays', () => {
  test.each([
    [4, 'D4'],
    [0, 'A0'],
  ] as const)('A4 with finger %i', (finger, expected) => {
    const score = withEvents(tuneOf(['A4:1/1']), (n) => ({ ...n, fingers: [finger] }));
    expect(hand(score)).toBe(expected);
  });
  test('a first finger on D5 takes the hand to third position', () => {
    const score = withEvents(tuneOf(['D5:1/1']), (n) => ({ ...n, fingers: [1] }));
    expect(hand(score)).toBe('A1p3');
  });
  test('tied notes stay under one finger', () => {
    expect(hand(tuneOf(['D5 E5- E5 D5 C#5:1/2']))).toMatch(/^A3 (A4 A4|E0 E0) A3 A2$/);
  });
});

describe('strings across', () => {
  test('a fifth is one finger laid over two strings', () => {
    expect(hand(tuneOf(['E4 B4 E4 B4 F#4 C#5 F#4 C#5']))).toBe('D1 A1 D1 A1 D2 A2 D2 A2');
  });
  test.each([
    ['a drone', 'B4+D4:1/1', 'A1 D0'],
    ['fourth finger and open string', 'A4+A4:1/1', 'D4 A0'],
    ['a laid finger', 'E4+B4:1/1', 'D1 A1'],
    ['a sixth', 'B4+G5:1/1', 'A1 E2'],
    ['a third, both stopped', 'B4+G4:1/1', 'A1 D3'],
    ['a third on one string in first position', 'B4+D5:1/1', 'D4p2 A2p2'],
    ['a second', 'C5+Bb4:1/1', 'A2 D4'],
  ])('%s lies on two strings', (_, bar, expected) => expect(hand(tuneOf([bar]))).toBe(expected));
  test('two notes of one string that no other string has: the melody is fingered, the other left out', () => {
    expect(hand(tuneOf(['G3+A3:1/1']))).toBe('G0');
  });
});

describe('beyond first position', () => {
  test('a pitch out of its reach is reached from higher up', () => {
    expect(hand(tuneOf(['E6:1/1']))).toBe('E4p4');
  });
  test('third position on request, where the passage lies there', () => {
    const score = tuneOf(['D6 C6 B5 A5 B5 C6 D6:1/4']);
    expect(hand(score, { highestPosition: 3 })).toBe('E4p3 E3p3 E2p3 E1p3 E2p3 E3p3 E4p3');
  });
  test('a pitch below the lowest string lies nowhere', () => expect(hand(tuneOf(['F3:1/1']))).toBe(''));
});

test('A E A E: what lies on the low strings moves a tone down, the strings keep their names', () => {
  const score = tuneOf(['A3 B3 C#4 D4 E4 F#4 G#4 A4']);
  expect(hand(score, { tuning: TUNINGS.AEAE })).toBe('G0 G1 G2 G3 D0 D1 D2 D3');
});

test('a cut is flicked by a finger above, on the string of its note', () => {
  const score = withEvents(tuneOf(['B4:1/1']), (n) => ({
    ...n,
    graces: { pitches: [pitch('D5')], slashed: false },
  }));
  expect(fingeringOf(score).map((f) => [f.address.grace, `${f.string}${f.finger}`])).toEqual([
    [0, 'A3'],
    [undefined, 'A1'],
  ]);
});

test('every note of a tune within reach is fingered once', () => {
  const names = ['G3', 'C4', 'F4', 'A#4', 'D#5', 'G#5', 'B5', 'E5'];
  expect(fingeringOf(tuneOf([names.join(' ')]))).toHaveLength(names.length);
});
