import { expect, test } from 'vitest';
import { wholeNotes } from '../../core/index.ts';
import { DEFAULT_SETTINGS, lessonOf } from '../../lesson/index.ts';
import { formatChord } from '../../music/index.ts';
import { readAbc } from '../../notation/index.ts';
import { withChordsWritten, withFirstChord } from './writeChords.ts';

const TUNE = `X:1
T:The Kettle Lid
R:reel
M:4/4
L:1/8
K:Ador
|:eA A2 BAGB|A2 AB c2 Bc|dBGB dBGB|dedB GABd|
eA A2 BAGB|A2 AB cBcd|eage dBGB|cABG A4:|
`;

const lessonIn = (abc: string) => {
  const score = readAbc(abc).tunes[0]?.score;
  if (score === undefined) throw new Error('no tune');
  return lessonOf(score, { ...DEFAULT_SETTINGS, date: '2026-11-26' });
};

test('chords that are written in are those of the backing, and nothing else changes', () => {
  const before = lessonIn(TUNE);
  const written = withChordsWritten(TUNE, before);
  if (written.kind === 'problem') throw new Error(written.message);
  const after = lessonIn(written.text);
  const told = (lesson: typeof before) =>
    lesson.chords.map(({ part, bar, onset, chord }) => [part, bar, onset, chord]);
  expect(told(after)).toEqual(told(before));
  expect(written.text.replace(/"[^"]*"/g, '')).toBe(TUNE);
  expect(withChordsWritten(written.text, after)).toMatchObject({ text: written.text });
});

test('the first chord that is written in a part changes nothing but itself', () => {
  const before = lessonIn(TUNE);
  const at = { part: 'A', bar: 2, onset: wholeNotes(0) };
  const written = withFirstChord(TUNE, before, { kind: 'chord', at, text: 'Em' });
  if (written === null || written.kind === 'problem') throw new Error('not written');
  const after = lessonIn(written.text);
  const told = ({ chords }: typeof before) =>
    chords.map(({ part, bar, onset, chord }) => [part, bar, onset, formatChord(chord)]);
  const isThere = ([, bar, onset]: ReturnType<typeof told>[number]): boolean =>
    bar === 2 && JSON.stringify(onset) === JSON.stringify(at.onset);
  expect(told(after).filter((c) => !isThere(c))).toEqual(told(before).filter((c) => !isThere(c)));
  expect(
    told(after)
      .filter(isThere)
      .map(([, , , chord]) => chord),
  ).toEqual(['Em']);
  expect(withFirstChord(written.text, after, { kind: 'chord', at, text: 'C' })).toBeNull();
});
