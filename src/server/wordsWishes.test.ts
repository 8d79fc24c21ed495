import { expect, test } from 'vitest';
import { readWordsFile } from '../lessonfile/index.ts';
import { changedWords, NO_WORDS, ownNamesOf, type Words, wishOfNote } from './wordsWishes.ts';

const wordsAfter = (words: Words, change: Parameters<typeof changedWords>[1]): Words => {
  const changed = changedWords(words, change);
  if (changed.kind === 'problem') throw new Error(changed.message);
  const read = readWordsFile(changed.text);
  if (read.kind === 'problem') throw new Error(changed.text);
  return read;
};
const NOTE = {
  technique: 'cut',
  words: 'Flick it, never press it.',
  drill: 'Open A.\nThen D.',
  see: 'Seven Thimbles\nhttps://example.org/cuts Cuts on two strings\nhttps://example.org/bare',
};

test('what the page writes is read back as the page has it', () => {
  const words = wordsAfter(NO_WORDS, { base: '', note: NOTE });
  const { technique, ...note } = NOTE;
  expect(wishOfNote(words.standing.cut ?? {})).toEqual(note);
  expect(words.standing.cut?.see).toEqual([
    { lesson: 'Seven Thimbles' },
    { web: 'https://example.org/cuts', title: 'Cuts on two strings' },
    { web: 'https://example.org/bare' },
  ]);
  expect(technique).toBe('cut');
});

test('a field that is not named stays, an emptied one goes, and with the last the technique', () => {
  const words = wordsAfter(NO_WORDS, { base: '', note: NOTE });
  const fewer = wordsAfter(words, { base: '', note: { technique: 'cut', drill: ' ' } });
  expect(fewer.standing.cut).toMatchObject({ words: NOTE.words });
  expect(fewer.standing.cut?.drill).toBeUndefined();
  const none = wordsAfter(fewer, { base: '', note: { technique: 'cut', words: '', see: '' } });
  expect(none.standing).toEqual({});
  const named = wordsAfter(words, { base: '', names: { cut: 'flick', treble: '', run: '', roll: '' } });
  expect(ownNamesOf(named.names)).toEqual({ cut: 'flick', treble: '', run: '', roll: '' });
  expect(named.standing).toEqual(words.standing);
});

test.each([
  ['three lines of a drill', { technique: 'cut', drill: 'a\nb\nc' }, /drill/],
  ['an address that is no web address', { technique: 'cut', see: 'ftp://example.org/x' }, /http/],
  ['a technique that there is not', { technique: 'yodel', words: 'x' }, /no technique "yodel"/],
])('%s is refused in words', (_, note, why) => {
  const changed = changedWords(NO_WORDS, { base: '', note });
  expect(changed.kind === 'problem' ? changed.message : changed.text).toMatch(why);
});
