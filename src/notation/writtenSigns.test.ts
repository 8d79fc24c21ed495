import { describe, expect, test } from 'vitest';
import { asWholeNotes, multiply, parseWholeNotes, rational } from '../core/index.ts';
import { keyOf, metre, pitch, pitchClass } from '../music/index.ts';
import { type Bar, type Event, plainNote } from '../score/index.ts';
import { writtenSignsOf } from './writtenSigns.ts';

/** "1/8_1/16 z1/8": lengths of notes, "_" where beamed on, "z" a rest, "(3:" and ")" round a triplet. */
const barOf = (text: string, role: Bar['role'] = 'full'): Bar => {
  const events: Event[] = [];
  for (const piece of text.split(' ')) {
    const inTuplet = piece.startsWith('(3:');
    const tokens = piece.replace(/^\(3:|\)$/g, '').split('_');
    tokens.forEach((token, i) => {
      const written = parseWholeNotes(token.replace('z', ''));
      const length = inTuplet ? asWholeNotes(multiply(written, rational(2, 3))) : written;
      const tuplet = inTuplet ? { actual: 3, normal: 2, index: i, count: tokens.length } : null;
      const beamedToNext = i < tokens.length - 1;
      events.push(
        token.startsWith('z')
          ? { kind: 'rest', length, visible: true, tuplet, beamedToNext, marks: [] }
          : { ...plainNote(pitch('A4'), length), tuplet, beamedToNext },
      );
    });
  }
  return {
    events,
    key: keyOf(pitchClass('D'), 'major'),
    metre: metre(4, 4),
    role,
    number: 1,
    repeatStart: 0,
    repeatEnd: 0,
    line: 'single',
    ending: null,
    chords: [],
    annotations: [],
    fields: [],
    tempo: null,
    lineEnd: false,
  };
};
const SHORT = { begin: 'B', continue: 'C', end: 'E', forwardHook: 'f', backwardHook: 'b' } as const;
const beams = (bar: Bar): string =>
  writtenSignsOf(bar)
    .map((s) => s.beams.map((b) => SHORT[b]).join('') || '-')
    .join(' ');

describe('beams', () => {
  test.each([
    ['quavers in a pair', '1/8_1/8 1/8 1/4', 'B E - -'],
    ['four quavers', '1/8_1/8_1/8_1/8', 'B C C E'],
    ['quaver and two semiquavers', '1/8_1/16_1/16', 'B CB EE'],
    ['two semiquavers between', '1/16_1/16_1/8_1/16_1/16', 'BB CE C CB EE'],
    ['dotted pair', '3/16_1/16', 'B Eb'],
    ['snap', '1/16_3/16', 'Bf E'],
    ['two dotted pairs', '3/16_1/16_3/16_1/16', 'B Cb C Eb'],
    ['two snaps', '1/16_3/16_1/16_3/16', 'Bf C Cf E'],
    ['dotted jig figure', '3/16_1/16_1/8', 'B Cb E'],
    ['no flag, no beam', '1/4_1/8', '- -'],
    ['a rest ends the beam', '1/8_1/8_z1/8_1/8_1/8', 'B E - B E'],
    ['a length in two signs', '5/32_3/32', 'B CBf EE'],
  ])('%s: %s', (_, text, expected) => expect(beams(barOf(text))).toBe(expected));
  test('a pick-up is counted from the end of the bar', () => {
    expect(beams(barOf('1/16_1/16_1/8 1/16_1/8_1/16', 'pickup'))).toBe('BB CE E Bf C Eb');
  });
});

describe('tuplet brackets', () => {
  const brackets = (bar: Bar): readonly (string | null)[] => writtenSignsOf(bar).map((s) => s.bracket);
  test('stand round a whole tuplet', () => {
    expect(brackets(barOf('1/4 (3:1/8_1/8_1/8) (3:1/8_1/4)'))).toEqual([
      null,
      'start',
      null,
      'stop',
      'start',
      'stop',
    ]);
  });
  test.each([
    ['(3:1/8_1/8_1/8)', true],
    ['(3:1/4_1/8)', false],
    ['(3:1/8_z1/8_1/8)', false],
  ])('%s is beamed as one: %s', (text, beamed) => {
    expect(writtenSignsOf(barOf(text))[0]?.beamedTuplet).toBe(beamed);
  });
  test('a beam that goes on over the tuplet does not show it', () => {
    const bar = barOf('(3:1/8_1/8_1/8) 1/8');
    const joined = { ...bar, events: bar.events.map((e) => ({ ...e, beamedToNext: true })) };
    expect(writtenSignsOf(joined)[0]).toMatchObject({ bracket: 'start', beamedTuplet: false });
  });
  test('a tuplet with notes missing has none, its values stay those of a tuplet', () => {
    const bar = barOf('(3:1/8_1/8_1/8)');
    const cut = { ...bar, events: bar.events.slice(0, 2) };
    expect(brackets(cut)).toEqual([null, null]);
    expect(writtenSignsOf(cut)[0]?.value).toMatchObject({ value: 'eighth', ratio: { actual: 3, normal: 2 } });
  });
});

test('an event without length leaves no sign', () => {
  expect(writtenSignsOf({ ...barOf('1/4'), events: [plainNote(pitch('A4'), parseWholeNotes('0'))] })).toEqual(
    [],
  );
});
