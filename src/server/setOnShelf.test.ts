import { expect, test } from 'vitest';
import { readSetFile } from '../lessonfile/index.ts';
import type { SetWish } from '../protocol/index.ts';
import { setTextOf, wishOf } from './setOnShelf.ts';

const WISH: SetWish = {
  title: 'After Tea',
  plays: 'bones',
  tunes: [
    { lesson: 'lid', times: 3, steady: null, upToSpeed: 100, turn: 'E7' },
    { lesson: 'hob', times: 2, steady: 70, upToSpeed: null, turn: null },
  ],
};

test('what the page decides comes back from the file as the page has it', () => {
  const written = setTextOf(WISH);
  const read = written.kind === 'text' ? readSetFile(written.text) : null;
  expect(read?.kind === 'set' ? wishOf(read.set) : written).toEqual(WISH);
});

test.each(['../hob', '..', 'a/b', 'a\\b'])('no set names a lesson outside of its shelf: %s', (lesson) => {
  const written = setTextOf({ ...WISH, tunes: WISH.tunes.map((tune) => ({ ...tune, lesson })) });
  expect(written).toMatchObject({ kind: 'problem', message: expect.stringContaining('without a path') });
});
