import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULT_SETTINGS } from '../lesson/index.ts';
import { readLessonFile, type SettingsChange, withSettings } from './index.ts';

const KEPT = {
  version: 'bones',
  anchor: { part: 'A', bar: 1, plain: 'D4:1/4 z1/4' },
  events: [{ pitches: ['D4'], length: '1/4', tied: true }, { rest: '1/4' }],
} as const;
const textWith = (text: string, changes: SettingsChange): string => {
  const changed = withSettings(text, changes);
  if (changed.kind === 'problem') throw new Error(changed.problems[0]?.message);
  return changed.text;
};
const LESSON = '{"format":"tuneladder-lesson","version":1,"story":"One.\\n\\nTwo.","times":3}';

test('what is kept is written for people, the rest stays in its order, and it is read again', () => {
  const text = textWith(LESSON, {
    keptBars: [KEPT],
    acceptedOrnaments: [],
    barTable: [{ part: 'A', bars: ['D4:1/4 z1/4'] }],
  });
  expect(text).toBe(`{
  "format": "tuneladder-lesson",
  "version": 1,
  "story": "One.\\n\\nTwo.",
  "times": 3,
  "keptBars": [
    {
      "version": "bones",
      "anchor": { "part": "A", "bar": 1, "plain": "D4:1/4 z1/4" },
      "events": [{ "pitches": ["D4"], "length": "1/4", "tied": true }, { "rest": "1/4" }]
    }
  ],
  "barTable": [{ "part": "A", "bars": ["D4:1/4 z1/4"] }]
}
`);
  const read = readLessonFile(text);
  if (read.kind !== 'lesson') throw new Error('not read');
  expect(read.settings).toMatchObject({ times: 3, keptBars: [KEPT], barTable: [{ part: 'A' }] });
});

test('without anything kept both fields go', () => {
  const text = textWith(LESSON, { keptBars: [KEPT], acceptedOrnaments: [], barTable: null });
  expect(JSON.parse(textWith(text, { keptBars: [], acceptedOrnaments: [], barTable: [] }))).toEqual(
    JSON.parse(LESSON),
  );
});

test.each([
  [{ ...KEPT, events: [] }, /keptBars\.0\.events is empty/],
  [
    { ...KEPT, events: [{ pitches: ['H4'], length: '1/4' }] },
    /keptBars\.0\.events\.0\.pitches\.0 is not written as docs/,
  ],
  [
    { ...KEPT, events: [{ pitches: ['D4'], length: '0.25' }] },
    /keptBars\.0\.events\.0\.length is not written as docs/,
  ],
  [{ ...KEPT, anchor: { part: 'A', bar: -1, plain: '' } }, /keptBars\.0\.anchor\.bar is too small/],
])('%j is refused with its place', (one, message) => {
  const text = LESSON.replace('"times":3', `"keptBars":[${JSON.stringify(one)}]`);
  const read = readLessonFile(text);
  if (read.kind === 'lesson') throw new Error('was read');
  expect(read.problems.map((p) => p.message).join('\n')).toMatch(message);
});

describe('changed settings', () => {
  const FILE = `{"$schema":"x","format":"tuneladder-lesson","version":1,"words":"us","times":3,
    "band":{"pattern":"other"},"papers":["A4"],"tempos":{"learn":50}}`;
  const fieldsWith = (changes: SettingsChange): unknown => JSON.parse(textWith(FILE, changes));

  test('a field keeps its place, a new one takes the place that the form gives it, what is as usual goes', () => {
    const text = textWith(FILE, {
      times: 4,
      words: 'british',
      story: 'New.',
      tempos: { learn: 55, steady: 70 },
      papers: DEFAULT_SETTINGS.papers,
    });
    expect(Object.entries(JSON.parse(text) as object)).toEqual([
      ['$schema', 'x'],
      ['format', 'tuneladder-lesson'],
      ['version', 1],
      ['story', 'New.'],
      ['times', 4],
      ['band', { pattern: 'other' }],
      ['tempos', { learn: 55, steady: 70 }],
    ]);
  });

  test.each<[SettingsChange, object]>([
    [{ band: { players: ['piano'], pattern: 'usual' } }, { band: { players: ['piano'] } }],
    [{ fiddle: { variation: true, vibrato: true } }, { fiddle: { vibrato: true } }],
    [{ names: { treble: 'treble' } }, { names: { treble: 'treble' } }],
    [
      { audiences: { track: 'supporters' }, slurs: 'hooked' },
      { audiences: { track: 'supporters' }, slurs: 'hooked' },
    ],
  ])('%j is written as %j', (changes, fields) => expect(fieldsWith(changes)).toMatchObject(fields));

  test.each([
    [{ band: DEFAULT_SETTINGS.band }, 'band'],
    [{ tempos: {} }, 'tempos'],
    [{ swing: null }, 'swing'],
    [{ date: null }, 'date'],
    [{ ownNotes: [] }, 'notes'],
    [{ names: {} }, 'names'],
  ] as const)('%j is as usual and not written', (changes, field) =>
    expect(fieldsWith(changes)).not.toHaveProperty(field),
  );

  test.each([
    [{ tempos: { learn: 5000 } }, 'tempos.learn is too large; at most 400.'],
    [
      { versions: [{ kind: 'full' }, { kind: 'bones' }] },
      'versions goes from the simplest to the fullest: bones, then plain, then full.',
    ],
  ] as const)('%j is refused in words', (changes, message) =>
    expect(withSettings(FILE, changes)).toMatchObject({ kind: 'problem', problems: [{ message }] }),
  );

  test('a file that cannot be read is left alone, with what is wrong with it', () =>
    expect(withSettings('{"times":3', { times: 4 })).toMatchObject({
      kind: 'problem',
      problems: [{ line: 1 }],
    }));
});

const SEED = { seed: 20261126, numRuns: 200 };

/** Any changes that a teacher can make on a screen. */
const changes = fc.record(
  {
    teacher: fc.string({ maxLength: 200 }),
    date: fc.constantFrom('2026-11-26', null),
    story: fc.string({ unit: 'binary' }),
    tempos: fc.record({ learn: fc.integer({ min: 10, max: 400 }) }, { requiredKeys: [] }),
    times: fc.integer({ min: 1, max: 9 }),
    swing: fc.option(fc.double({ min: 1, max: 2.5, noNaN: true })),
    density: fc.constantFrom('usual', 'fuller'),
    plain: fc.record({ ornaments: fc.constantFrom('none', 'main') }, { requiredKeys: [] }),
    versions: fc.constantFrom(DEFAULT_SETTINGS.versions, [
      { kind: 'plain' },
      { kind: 'full', name: 'It all' },
    ] as const),
    slurs: fc.constantFrom('written', 'hooked'),
    position: fc.constantFrom(1, 3),
    papers: fc.constantFrom(['A4'] as const, ['A4', 'Letter'] as const),
    largePrint: fc.boolean(),
    tracks: fc.array(fc.record({ bars: fc.constant('1-4') }), { maxLength: 3 }),
    formats: fc.constantFrom(['mp3'] as const, ['wav', 'mp3'] as const),
    click: fc.boolean(),
    band: fc.record({
      players: fc.constantFrom(['guitar', 'bass'] as const, ['piano'] as const),
      pattern: fc.constantFrom('usual', 'other'),
    }),
    names: fc.record({ cut: fc.constantFrom('cut', 'grace note') }, { requiredKeys: [] }),
    ownNotes: fc.array(fc.record({ about: fc.constant('tune'), words: fc.string({ minLength: 1 }) }), {
      maxLength: 3,
    }),
    audiences: fc.dictionary(fc.constantFrom('track', 'sheet/plain'), fc.constantFrom('public', 'teacher')),
  },
  { requiredKeys: [] },
);

test('(law) whatever is changed is read back, one change after another, and doing it again changes nothing', () =>
  fc.assert(
    fc.property(changes, changes, (first, second) => {
      const text = textWith(textWith(LESSON, first as SettingsChange), second as SettingsChange);
      const read = readLessonFile(text);
      if (read.kind !== 'lesson') throw new Error('not read');
      const names = second.names ?? first.names ?? {};
      const expected = { ...DEFAULT_SETTINGS, date: null, story: 'One.\n\nTwo.', times: 3 };
      expect(read.settings).toEqual({
        ...expected,
        ...first,
        ...second,
        names: { ...DEFAULT_SETTINGS.names, ...names },
      });
      expect(textWith(text, second as SettingsChange)).toBe(text);
    }),
    SEED,
  ));
