import { describe, expect, test } from 'vitest';
import { formatRational, wholeNotes } from '../core/index.ts';
import {
  barLengthOf,
  chordChromas,
  chromaOf,
  DANCES,
  danceOf,
  degreeOf,
  fifthsOf,
  formatChord,
  formatMetre,
  formatPitch,
  formatPitchClass,
  intervalBetween,
  isCompound,
  isHarsh,
  isInKey,
  isSamePitch,
  keyName,
  keyOf,
  type Metre,
  metre,
  midiOf,
  NO_KEY,
  notatedBeatOf,
  noteAbove,
  pitch,
  pitchAtStaffStep,
  pitchClass,
  plainFifthsOf,
  printedChord,
  printedName,
  readChord,
  scaleOf,
  semitonesAboveTonic,
  staffStepOf,
} from './index.ts';

describe('pitch', () => {
  test.each([
    ['G3', 55],
    ['D4', 62],
    ['A4', 69],
    ['E5', 76],
    ['B#3', 60],
    ['Cb4', 59],
    ['F##4', 67],
  ])('%s is MIDI note %i', (name, midi) => {
    expect(midiOf(pitch(name))).toBe(midi);
    expect(formatPitch(pitch(name))).toBe(name);
  });
  test('a step on the staff and its accidental make the pitch again', () => {
    const f = pitch('F#5');
    expect(isSamePitch(pitchAtStaffStep(staffStepOf(f), 1), f)).toBe(true);
    expect(isSamePitch(f, pitch('Gb5'))).toBe(false);
  });
  test('names that are none are refused', () => {
    expect(() => pitch('H4')).toThrow(RangeError);
    expect(() => pitchClass('F###')).toThrow(RangeError);
  });
  test('people read real signs', () => expect(printedName(pitchClass('Bb'))).toBe('B♭'));
});

describe('intervals', () => {
  test('a fifth up is four steps and seven semitones', () => {
    expect(intervalBetween(pitch('D4'), pitch('A4'))).toEqual({ steps: 4, semitones: 7 });
  });
  test.each([
    ['B4', 'C5', true],
    ['C4', 'B4', true],
    ['F4', 'B4', true],
    ['F4', 'B5', true],
    ['G4', 'B4', false],
    ['A4', 'B4', false],
    ['D4', 'D5', false],
  ])('%s against %s is harsh: %s', (a, b, harsh) => expect(isHarsh(pitch(a), pitch(b))).toBe(harsh));
});

describe('keys', () => {
  // Source: ABC standard 2.1 (December 2011), section 3.1.14, rows "2 sharps" and "3 flats".
  test.each([
    ['D', 'major', 2],
    ['B', 'minor', 2],
    ['A', 'mixolydian', 2],
    ['E', 'dorian', 2],
    ['F#', 'phrygian', 2],
    ['G', 'lydian', 2],
    ['C#', 'locrian', 2],
    ['Eb', 'major', -3],
    ['F', 'dorian', -3],
  ] as const)('%s %s has %i sharps (flats below 0)', (tonic, mode, fifths) => {
    expect(fifthsOf(pitchClass(tonic), mode)).toBe(fifths);
    expect(plainFifthsOf(keyOf(pitchClass(tonic), mode))).toBe(fifths);
  });
  test('the scale of D Mixolydian begins on D and has C natural', () => {
    expect(scaleOf(keyOf(pitchClass('D'), 'mixolydian')).map(formatPitchClass)).toEqual([
      'D',
      'E',
      'F#',
      'G',
      'A',
      'B',
      'C',
    ]);
  });
  test('degrees are counted from the keynote', () => {
    const key = keyOf(pitchClass('A'), 'dorian');
    expect(degreeOf(key, pitchClass('F#'))).toBe(6);
    expect(isInKey(key, pitchClass('F#'))).toBe(true);
    expect(isInKey(key, pitchClass('F'))).toBe(false);
    expect(semitonesAboveTonic(key, pitchClass('C'))).toBe(3);
    expect(degreeOf(NO_KEY, pitchClass('C'))).toBeNull();
    expect(keyName(key)).toBe('A Dorian');
  });
  test('a mixture of sharps and flats is no plain signature', () => {
    const key = keyOf(pitchClass('D'), 'phrygian');
    expect(plainFifthsOf({ ...key, accidentals: { ...key.accidentals, F: 1 } })).toBeNull();
  });
  test('impossible keys are refused', () =>
    expect(() => keyOf(pitchClass('G#'), 'major')).toThrow(RangeError));
});

describe('metres', () => {
  test.each([
    [6, 8, true, '3/8', '3/4'],
    [9, 8, true, '3/8', '9/8'],
    [12, 8, true, '3/8', '3/2'],
    [3, 8, false, '1/8', '3/8'],
    [3, 2, false, '1/2', '3/2'],
    [2, 4, false, '1/4', '1/2'],
  ])('%i/%i: compound %s, beat %s, bar %s', (count, unit, compound, beat, bar) => {
    const m = metre(count, unit);
    expect(isCompound(m)).toBe(compound);
    expect(formatRational(notatedBeatOf(m))).toBe(beat);
    expect(formatRational(barLengthOf(m) ?? wholeNotes(0))).toBe(bar);
  });
  test('free metre has no bar length', () => expect(barLengthOf({ kind: 'free' })).toBeNull());
  test('are written as in ABC', () => {
    const cut: Metre = { kind: 'measured', count: 2, unit: 2, symbol: 'cut' };
    expect(formatMetre(cut)).toBe('C|');
    expect(formatMetre({ kind: 'measured', count: 7, unit: 8, groups: [2, 2, 3] })).toBe('(2+2+3)/8');
    expect(() => metre(0, 4)).toThrow(RangeError);
  });
});

describe('chords', () => {
  test.each([
    ['Bm', 'minor', [11, 2, 6]],
    ['F#m7', 'minorSeventh', [6, 9, 1, 4]],
    ['Bb', 'major', [10, 2, 5]],
    ['D5', 'fifth', [2, 9]],
    ['G/A', 'major', [7, 11, 2, 9]],
  ] as const)('%s is %s', (text, quality, chromas) => {
    const chord = readChord(text);
    expect(chord?.quality).toBe(quality);
    expect(chord && chordChromas(chord)).toEqual(chromas);
    expect(chord && formatChord(chord)).toBe(text);
  });
  test.each(['', 'N.C.', 'Hm', 'slowly', 'D//F'])('%j is no chord', (text) =>
    expect(readChord(text)).toBeNull(),
  );
  test('print real signs', () => {
    const chord = readChord('F#m/C#');
    expect(chord && printedChord(chord)).toBe('F♯m/C♯');
  });
  test('tones are spelled from the root', () => {
    expect(formatPitchClass(noteAbove(pitchClass('F#'), 2, 4))).toBe('A#');
    expect(formatPitchClass(noteAbove(pitchClass('Bb'), 2, 3))).toBe('Db');
    expect(chromaOf(noteAbove(pitchClass('E'), 4, 7))).toBe(11);
  });
});

describe('dances', () => {
  test.each([
    ['reel', metre(4, 4), 'reel', false],
    ['Slip jig', metre(9, 8), 'slipJig', false],
    ['Hop Jig', metre(9, 8), 'slipJig', false],
    ['double jig', metre(6, 8), 'jig', false],
    ['march', metre(6, 8), 'compoundMarch', false],
    [undefined, metre(12, 8), 'slide', true],
    [undefined, metre(2, 4), 'polka', true],
    [undefined, { kind: 'free' } as const, 'air', true],
  ] as const)('R:%s in that metre is a %s', (rhythm, m, id, judged) => {
    const found = danceOf(rhythm, m);
    expect(found.dance.id).toBe(id);
    expect(found.judged).toBe(judged);
  });
  test('the beat of a dance divides its bar, also where the metre is odd for it', () => {
    expect(formatRational(danceOf('jig', metre(4, 4)).dance.beat)).toBe('1/4');
    expect(formatRational(danceOf('reel', metre(2, 2)).dance.beat)).toBe('1/2');
  });
  test('a reel or hornpipe written small in 2/4 keeps its pace', () => {
    const semiquaver = wholeNotes(1, 16);
    expect(formatRational(danceOf('reel', metre(2, 4), semiquaver).dance.beat)).toBe('1/4');
    expect(formatRational(danceOf('hornpipe', metre(2, 4), semiquaver).dance.beat)).toBe('1/8');
    expect(formatRational(danceOf('polka', metre(2, 4), semiquaver).dance.beat)).toBe('1/4');
    expect(danceOf(undefined, metre(2, 4), semiquaver).dance.id).toBe('tune');
  });
  // Common practice: tempi rise from step to step, the bones are learnt no faster than all the notes.
  test.each(Object.values(DANCES).map((d) => [d.id, d.tempo] as const))(
    '%s gets faster step by step',
    (_, tempo) => {
      expect(tempo.learnBones).toBeLessThanOrEqual(tempo.learn);
      expect(tempo.learn).toBeLessThan(tempo.steady);
      expect(tempo.steady).toBeLessThan(tempo.upToSpeed);
    },
  );
});
