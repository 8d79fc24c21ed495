import { describe, expect, test } from 'vitest';
import { midiOf, pitchClass } from '../../music/index.ts';
import { readAbc, transposedAbc } from '../../notation/index.ts';
import { notesOf } from '../../score/index.ts';
import { lessonOf, withKeptBar } from '../index.ts';
import { DEFAULT_SETTINGS } from '../settings.ts';
import { transposedSettings } from './transposedSettings.ts';
import { type Direction, rangeRemarks, transpositionTo } from './transposition.ts';

const TUNE =
  'X:1\nT:The Kettle Lid\nR:reel\nM:4/4\nL:1/8\nK:G\n|:D2|G2BG dGBG|c2AB cBAF|G2BG dGBG|cAFA G2:|\n';
const SETTINGS = { ...DEFAULT_SETTINGS, date: '2026-11-26' };
const read = (text: string) => {
  const [tune] = readAbc(text).tunes;
  if (tune === undefined) throw new Error('no tune');
  return tune;
};

test.each<readonly [string, Direction, number]>([
  ['A', 'near', 2],
  ['A', 'down', -10],
  ['D', 'near', -5],
  ['F', 'near', -2],
  ['G', 'up', 12],
  ['G', 'down', -12],
  ['Bb', 'near', 3],
])('from G to %s, %s: %i semitones', (to, direction, semitones) => {
  expect(transpositionTo(read(TUNE).score, pitchClass(to), direction)?.semitones).toBe(semitones);
});
test('a tune is in its own key already', () => {
  expect(transpositionTo(read(TUNE).score, pitchClass('G'), 'near')).toBeNull();
});
test('what is off the fiddle is said', () => {
  const interval = transpositionTo(read(TUNE).score, pitchClass('G'), 'down');
  const moved = transposedAbc(TUNE, read(TUNE).span, interval ?? { steps: 0, semitones: 0 });
  const { score } = read(moved.kind === 'transposed' ? moved.text : '');
  expect(rangeRemarks(score, 'british')).toEqual([
    "3 notes lie below the fiddle's lowest string: bars 2 and 4 and the pick-up of part A. Move the tune up instead.",
  ]);
  expect(rangeRemarks(read(TUNE).score, 'british')).toEqual([]);
});

describe('a lesson moved', () => {
  const lesson = lessonOf(read(TUNE).score, SETTINGS);
  const part = 'A';
  const events = lesson.versions.plain.parts[0]?.bars[2]?.events ?? [];
  const attached = withKeptBar(lesson, { version: 'bones', part, bar: 2, events, everywhere: false });
  const interval = { steps: 1, semitones: 2 };
  const moved = transposedAbc(TUNE, read(TUNE).span, interval);
  const settings = { ...SETTINGS, ...attached };
  const now = lessonOf(read(moved.kind === 'transposed' ? moved.text : '').score, {
    ...settings,
    ...transposedSettings(settings, interval),
  });
  test('its kept bar is in force there, a tone higher', () => {
    const before = lessonOf(lesson.written, settings);
    expect(before.kept[0]).toMatchObject({
      changed: false,
      found: { kind: 'same' },
      outcome: { kind: 'inForce' },
    });
    expect(now.kept[0]).toMatchObject({
      changed: false,
      found: { kind: 'same' },
      outcome: { kind: 'inForce' },
    });
    const heights = (one: typeof now) =>
      notesOf(one.ladder[0].score).map(({ note }) => midiOf(note.pitches[0]));
    expect(heights(now)).toEqual(heights(before).map((h) => h + 2));
  });
});
