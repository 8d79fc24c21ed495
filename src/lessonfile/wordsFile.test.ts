import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { readWordsFile, wordsJsonSchema } from './index.ts';

test('docs/words.schema.json says what is read', () => {
  const written = readFileSync(new URL('../../docs/words.schema.json', import.meta.url), 'utf8');
  expect(JSON.parse(written)).toEqual(JSON.parse(JSON.stringify(wordsJsonSchema())));
});

const words = (body: string): string => `{"format":"tuneladder-words","version":1,\n${body}}`;

test('names and standing words are read', () => {
  const read = readWordsFile(
    words(
      '"names":{"treble":"birl"},"techniques":{"treble":{"words":"From the wrist.","drill":["one","two"],"see":[{"web":"https://example.org/birl","title":"birls"},{"lesson":"Seven Thimbles"}]}}',
    ),
  );
  expect(read).toEqual({
    kind: 'words',
    names: { treble: 'birl' },
    standing: {
      treble: {
        words: 'From the wrist.',
        drill: ['one', 'two'],
        see: [{ web: 'https://example.org/birl', title: 'birls' }, { lesson: 'Seven Thimbles' }],
      },
    },
  });
});

test.each([
  ['"techniques":{"wobble":{}}', /wobble/],
  ['"techniques":{"cut":{"drill":["1","2","3"]}}', /techniques\.cut\.drill has too many; at most 2\./],
  ['"names":{"cut":""}', /names\.cut/],
  [
    '"techniques":{"cut":{"see":[{"web":"javascript:alert(1)"}]}}',
    /^2:\d+: techniques\.cut\.see\.0\.web begins with "javascript:"; only http:\/\/ and https:\/\/ addresses are linked\./,
  ],
  ['"techniques":{"cut":{"see":[{"web":"example.org"}]}}', /has no scheme: begin it with https:/],
])('%s is refused with place, field and remedy', (body, message) => {
  const read = readWordsFile(words(body));
  if (read.kind === 'words') throw new Error('was read');
  expect(read.problems.map((p) => `${p.line}:${p.column}: ${p.message}`).join('\n')).toMatch(message);
});
