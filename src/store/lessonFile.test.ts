import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
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
  ['{', /no JSON/],
  ['[]', /the file: /],
  ['{"format":"another","version":1}', /format: /],
  ['{"format":"tuneladder-lesson","version":2}', /version: /],
  ['{"format":"tuneladder-lesson","version":1,"tempos":{"steady":"fast"}}', /tempos\.steady: /],
  ['{"format":"tuneladder-lesson","version":1,"colour":"red"}', /colour/],
])('%s is refused with the field that is wrong', (text, message) => {
  const read = readLessonFile(text);
  expect(read.kind === 'problem' ? read.messages.join('\n') : 'read').toMatch(message);
});
