import { describe, expect, test } from 'vitest';
import { awkwardPlacesOf } from './index.ts';
import { tuneOf } from './testing/tuneOf.ts';

const kinds = (bar: string, options = {}): readonly string[] =>
  awkwardPlacesOf(tuneOf([bar]), options).map((p) => p.kind);

// Source: common practice (F♯ on D to C♮ on A: one finger, two places).
describe('what is named', () => {
  test.each([
    ['a diminished fifth under one finger', 'F#4 C5 D5 A4 A4:1/2', ['splitFifth']],
    ['an augmented one', 'C#5 F4 E4 D4 D4:1/2', ['splitFifth']],
    ['no perfect fifth', 'F#4 C#5 D5 A4 A4:1/2', []],
    ['nothing where there is time', 'F#4:1/2 C5:1/2', []],
    ['low and high second finger close together', 'C5 C#5 D5 A4 A4:1/2', ['twoSeconds']],
    ['on two strings that are no neighbours', 'G5 D4 F#4 A4:1/4 A4:1/4 A4', ['twoSeconds']],
    ['not where four notes stand between', 'C5 D5 B4 A4 B4 C#5 A4:1/4', []],
    ['a stretched third finger', 'A4 G#4 A4:1/4 A4:1/2', ['stretchedThird']],
    ['a stretched fourth finger', 'C6:1/4 A5:1/4 E5:1/2', ['stretchedFourth']],
    ['crossings there and back at speed', 'D5 F#4 D5 F#4 D5 A4 A4:1/4', ['thereAndBack']],
    ['one there and back over a string', 'G5 G4 G5 E5 E5:1/2', ['thereAndBack']],
    ['not one to the next string', 'D5 F#4 D5 C#5 A4:1/2', []],
    ['not slow ones', 'D5:1/4 F#4:1/4 D5:1/4 F#4:1/4', []],
    ['a double stop that first position does not hold', 'B4+D5:1/1', ['shift']],
    ['one that no hand holds', 'G3+A3:1/1', ['outOfReach']],
    ['no drone', 'B4+D4:1/1', []],
  ])('%s', (_, bar, expected) => expect(kinds(bar)).toEqual(expected));
});

test('says what it is and what to do', () => {
  expect(awkwardPlacesOf(tuneOf(['F#4 C5 D5 A4 A4:1/2']))[0]).toMatchObject({
    strings: ['D', 'A'],
    what: 'F♯ on the D string and C on the A string are a diminished fifth for the second finger.',
    advice: "Lift it and set it anew a semitone back towards the nut; don't lay it across.",
  });
});
