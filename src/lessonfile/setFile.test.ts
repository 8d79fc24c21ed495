import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readSetFile, setJsonSchema, writeSetFile } from './index.ts';

const SET = {
  format: 'tuneladder-set',
  version: 1,
  title: 'From the quay',
  tunes: [
    { lesson: 'the-lantern', times: 3, tempos: { upToSpeed: 96 }, turn: 'D7' },
    { lesson: 'the-wet-coat' },
  ],
};
const problemsOf = (set: unknown): readonly string[] => {
  const read = readSetFile(JSON.stringify(set));
  return read.kind === 'problem' ? read.problems.map(({ message }) => message) : [];
};

test('docs/set.schema.json says what is read', () => {
  const written = readFileSync(new URL('../../docs/set.schema.json', import.meta.url), 'utf8');
  expect(JSON.parse(written)).toEqual(JSON.parse(JSON.stringify(setJsonSchema())));
});
test('what is left out is as usual', () => {
  const read = readSetFile(JSON.stringify(SET));
  expect(read).toEqual({
    kind: 'set',
    set: {
      lessons: ['the-lantern', 'the-wet-coat'],
      plan: {
        title: 'From the quay',
        version: null,
        tunes: [
          { times: 3, tempos: { upToSpeed: 96 }, turn: 'D7' },
          { times: 2, tempos: {}, turn: null },
        ],
      },
    },
  });
  if (read.kind === 'set') expect(JSON.parse(writeSetFile(read.set))).toEqual(SET);
});
describe('what is wrong is said with its field', () => {
  test.each([
    [{ ...SET, tunes: SET.tunes.slice(0, 1) }, 'tunes has too few; at least 2.'],
    [
      { ...SET, tunes: [{ lesson: '../elsewhere' }, ...SET.tunes] },
      "tunes.0.lesson takes the name of a lesson's folder, without a path.",
    ],
    [{ ...SET, tunes: [{ lesson: 'a', times: 12 }, ...SET.tunes] }, 'tunes.0.times is too large; at most 9.'],
    [{ ...SET, tune: [] }, 'the set\'s file has no field "tune".'],
  ])('%#', (set, message) => {
    expect(problemsOf(set)).toEqual([message]);
  });
});
