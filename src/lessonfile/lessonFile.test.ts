import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { lessonJsonSchema, readLessonFile } from './index.ts';

const DEMO = new URL('../../demo/lessons/', import.meta.url);

test('docs/lesson.schema.json says what is read', () => {
  const written = readFileSync(new URL('../../docs/lesson.schema.json', import.meta.url), 'utf8');
  expect(JSON.parse(written)).toEqual(JSON.parse(JSON.stringify(lessonJsonSchema())));
});

test.each(readdirSync(DEMO))('the demo lesson %s is read', (name) => {
  expect(readLessonFile(readFileSync(new URL(`${name}/lesson.json`, DEMO), 'utf8')).kind).toBe('lesson');
});

test('what is left out takes its default, what is given stays', () => {
  const read = readLessonFile(
    '{"format":"tuneladder-lesson","version":1,"tempos":{"steady":72},"plain":{"longRoll":"held"}}',
  );
  if (read.kind !== 'lesson') throw new Error('not read');
  expect(read.settings).toMatchObject({
    teacher: '',
    date: null,
    times: 2,
    density: 'usual',
    tempos: { steady: 72 },
    plain: { longRoll: 'held' },
  });
});

test.each([
  ['{', /^1:2: this is not well-formed JSON/],
  ['{\n "format": "tuneladder-lesson"\n "version": 1}', /^3:2: this is not well-formed JSON/],
  ['[]', /^1:1: lesson\.json takes fields in curly brackets/],
  ['{"format":"another","version":1}', /^1:2: format takes "tuneladder-lesson"\./],
  ['{"format":"tuneladder-lesson","version":2}', /version takes 1\./],
  [
    '{"format":"tuneladder-lesson","version":1,\n"tempos":{"steady":"fast"}}',
    /^2:11: tempos\.steady takes a number\./,
  ],
  ['{"format":"tuneladder-lesson","version":1,"times":99}', /times is too large; at most 9\./],
  ['{"format":"tuneladder-lesson","version":1,"times":1.5}', /times takes a whole number\./],
  ['{"format":"tuneladder-lesson","version":1,"date":"tomorrow"}', /date takes a day like "2026-11-25"\./],
  ['{"format":"tuneladder-lesson","version":1,"papers":[]}', /papers is empty\./],
  ['{"format":"tuneladder-lesson","version":1,"words":"dutch"}', /words takes "british" or "us"\./],
  [
    '{"format":"tuneladder-lesson","version":1,"colour":"red"}',
    /^1:43: lesson\.json has no field "colour"\./,
  ],
])('%s is refused with place, field and remedy', (text, message) => {
  const read = readLessonFile(text);
  if (read.kind === 'lesson') throw new Error('was read');
  const lines = read.problems.map((p) => `${p.line}:${p.column}: ${p.message}`);
  expect(lines.join('\n')).toMatch(message);
});

describe('a lesson lists its versions', () => {
  const fileWith = (versions: string): string =>
    `{"format":"tuneladder-lesson","version":1,\n"versions":${versions}}`;
  test('two to four of them, with what sets them apart', () => {
    const read = readLessonFile(
      fileWith(
        '[{"kind":"bones","density":"sparser"},{"kind":"plain","ornaments":"main","name":"The tune"}]',
      ),
    );
    expect(read.kind === 'lesson' && read.settings.versions).toEqual([
      { kind: 'bones', density: 'sparser' },
      { kind: 'plain', ornaments: 'main', name: 'The tune' },
    ]);
  });
  test.each([
    [
      '[{"kind":"full"},{"kind":"bones"}]',
      'versions goes from the simplest to the fullest: bones, then plain, then full.',
    ],
    ['[{"kind":"full"}]', 'versions has too few; at least 2.'],
    ['[{"kind":"full"},{"kind":"fuller"}]', 'versions.1.kind takes "bones" or "plain" or "full".'],
    ['[{"kind":"bones","ornaments":"main"},{"kind":"full"}]', 'versions.0 has no field "ornaments".'],
  ])('%s is told with its place', (versions, message) => {
    const read = readLessonFile(fileWith(versions));
    expect(read.kind === 'problem' && read.problems[0]).toMatchObject({ message, line: 2 });
  });
});
