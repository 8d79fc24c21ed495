import { expect, test } from 'vitest';
import { readLessonFile, withWritten } from './index.ts';

const KEPT = {
  version: 'bones',
  anchor: { part: 'A', bar: 1, plain: 'D4:1/4 z1/4' },
  events: [{ pitches: ['D4'], length: '1/4', tied: true }, { rest: '1/4' }],
} as const;
const LESSON = '{"format":"tuneladder-lesson","version":1,"story":"One.\\n\\nTwo.","times":3}';

test('what is kept is written for people, the rest stays in its order, and it is read again', () => {
  const text = withWritten(LESSON, {
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
  const text = withWritten(LESSON, { keptBars: [KEPT], acceptedOrnaments: [], barTable: null });
  expect(JSON.parse(withWritten(text, { keptBars: [], acceptedOrnaments: [], barTable: [] }))).toEqual(
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
