import { expect, test } from 'vitest';
import { readAbc } from '../../notation/index.ts';
import { beginningFor, begun } from './beginTune.ts';

test('a tune without a number gets one, bare music a header; both are tunes then', () => {
  const numberless = 'T:Without a number\nM:6/8\nK:D\nDED FAA|';
  const bare = '|:GABc dedB|dedB ~G2AB:|\n{g}c2ec (3BcB dB|"D"A2F2 G4|';
  expect(beginningFor(numberless)).toBe('number');
  expect(beginningFor(bare)).toBe('header');
  for (const text of [numberless, bare]) {
    const beginning = beginningFor(text);
    if (beginning === null) throw new Error('no beginning');
    const { tunes, diagnostics } = readAbc(begun(text, beginning));
    expect([tunes.length, diagnostics.filter((d) => d.severity === 'error')]).toEqual([1, []]);
  }
});

test('a whole tune, a letter, and a page need none', () => {
  for (const text of ['X:1\nK:D\nDED|', 'Dear Anna,\ncould you teach us | the reel?', '%PDF-1.4 obj', ''])
    expect(beginningFor(text), text).toBeNull();
});
