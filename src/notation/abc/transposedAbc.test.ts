import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Interval, midiOf } from '../../music/index.ts';
import { notesOf } from '../../score/index.ts';
import { readAbc, transposedAbc } from '../index.ts';

const TONE: Interval = { steps: 1, semitones: 2 };
const THIRD: Interval = { steps: 2, semitones: 3 };
const FIFTH: Interval = { steps: 4, semitones: 7 };
const down = ({ steps, semitones }: Interval): Interval => ({ steps: -steps, semitones: -semitones });

const moved = (text: string, interval: Interval): string => {
  const [tune] = readAbc(text).tunes;
  if (tune === undefined) throw new Error('no tune');
  const made = transposedAbc(text, tune.span, interval);
  if (made.kind === 'problem') throw new Error(made.message);
  return made.text;
};
const body = (line: string, key = 'G'): string => `X:1\nT:One\nM:4/4\nL:1/8\nK:${key}\n${line}\n`;
const movedLine = (line: string, interval: Interval, key = 'G'): string => {
  const lines = moved(body(line, key), interval).split('\n');
  return `${lines[4]} ${lines[5]}`;
};

describe('the text moved up a tone', () => {
  test.each([
    ['notes and lengths', 'GABc d2e>f g4', 'K:A ABcd e2f>g a4'],
    ['octave marks', "B,C, Bc b'c'", "K:A CD, cd c''d'"],
    ['signs that are written', '^c=f_B^G', 'K:A ^d=g=c^A'],
    ['grace notes, chords and drones', '{c}B[GB]2{/d}e', 'K:A {d}c[Ac]2{/e}f'],
    ['chord symbols, not other words', '"G"G2"D7/F#"A2"^slow"B2"Bm"d2', 'K:A "A"A2"E7/G#"B2"^slow"c2"C#m"e2'],
    ['a key inside the line, and spaces', 'G2  B2 |[K:Dmix] d2 c2', 'K:A A2  c2 |[K:Emix] e2 d2'],
    ['decorations, slurs, rests and repeats', '|:~G3(B vd)z u.e:|', 'K:A |:~A3(c ve)z u.f:|'],
    ['written fingers are left out', '!1!A!upbow!B', 'K:A B!upbow!c'],
  ])('%s', (_, line, wanted) => {
    expect(movedLine(line, TONE)).toBe(wanted);
  });
  test('nothing else of the text changes', () => {
    const text =
      'X:7\r\nT:Grace and B flat\r\nC:A. Dagger\r\nN: in G\r\nM:C|\r\nL:1/8\r\nQ:1/2=90\r\nm: ~G2 = {A}G{F}G\r\nK:G % first\r\n"G"G2 ~G2 | B4 % turn: Bc\r\nw: do re mi fa\r\n%%text A B C\r\n';
    expect(moved(text, TONE)).toBe(
      'X:7\r\nT:Grace and B flat\r\nC:A. Dagger\r\nN: in G\r\nM:C|\r\nL:1/8\r\nQ:1/2=90\r\nm: ~A2 = {B}A{G}A\r\nK:A % first\r\n"A"A2 ~A2 | c4 % turn: Bc\r\nw: do re mi fa\r\n%%text A B C\r\n',
    );
  });
});

test.each([
  ['A dorian', THIRD, 'C dorian'],
  ['Am', TONE, 'Bm'],
  ['Bb', TONE, 'C'],
  ['F#m', THIRD, 'Am'],
  ['Dphr ^f', TONE, 'Ephr ^g'],
  ['D exp ^f ^c', FIFTH, 'A exp ^c ^f ^g'],
  ['none', TONE, '^c ^f'],
  ['Hp', TONE, 'B exp ^c ^d ^f ^g'],
  ['G clef=treble', TONE, 'A clef=treble'],
])('K:%s', (key, interval, wanted) => {
  expect(movedLine('z8', interval, key)).toBe(`K:${wanted} z8`);
});
test('a key that nobody prints is a problem', () => {
  const text = body('c2', 'C#');
  const [tune] = readAbc(text).tunes;
  if (tune === undefined) throw new Error('no tune');
  expect(transposedAbc(text, tune.span, FIFTH)).toEqual({
    kind: 'problem',
    message: 'K:C# would need more than seven sharps or flats there. Choose the key with the other name.',
  });
});
test.each([TONE, THIRD, FIFTH, { steps: 7, semitones: 12 }])(
  'signs hold as they did in the bar: %j',
  (interval) => {
    const text = body('G^cc|c_Bb|=f f F^F|[^c=F]fc');
    const heights = (abc: string) =>
      readAbc(abc).tunes.flatMap(({ score }) =>
        notesOf(score).flatMap(({ note }) => note.pitches.map(midiOf)),
      );
    expect(heights(moved(text, interval))).toEqual(heights(text).map((midi) => midi + interval.semitones));
    expect(moved(moved(text, interval), down(interval))).toBe(text);
  },
);

const CORPORA = new URL('../../../../shared/data/corpora/', import.meta.url);
/** Every so many tunes of the shared books. */
const EVERY = 12;

test.skipIf(!existsSync(CORPORA))(
  'printed tunes moved a tone up: the same lengths, every note a tone higher, no new errors, and back again the same',
  { timeout: 120_000 },
  () => {
    const names = readdirSync(CORPORA, { recursive: true, encoding: 'utf8' }).filter((name) =>
      name.endsWith('.abc'),
    );
    let seen = 0;
    for (const name of names) {
      const book = readFileSync(new URL(name, CORPORA), 'latin1');
      readAbc(book).tunes.forEach(({ span }, i) => {
        if (i % EVERY !== 0) return;
        const text = `${book.slice(span.start, span.end)}\n`;
        const [tune] = readAbc(text).tunes;
        if (tune === undefined) throw new Error(`${name}: no tune`);
        const up = transposedAbc(text, tune.span, TONE);
        if (up.kind === 'problem') return;
        const [now] = readAbc(up.text).tunes;
        if (now === undefined) throw new Error(`${name}: the tune is gone`);
        const notes = notesOf(tune.score);
        const risen = notesOf(now.score);
        expect(risen.map(({ note }) => note.length)).toEqual(notes.map(({ note }) => note.length));
        expect(
          risen.map(({ note }) => midiOf(note.pitches[0])),
          `${name} ${tune.score.number}`,
        ).toEqual(notes.map(({ note }) => midiOf(note.pitches[0]) + TONE.semitones));
        const errors = (problems: typeof tune.diagnostics) =>
          problems.filter((d) => d.severity === 'error').map((d) => d.code);
        expect(errors(now.diagnostics)).toEqual(errors(tune.diagnostics));
        const back = transposedAbc(up.text, now.span, down(TONE));
        if (back.kind === 'problem') throw new Error(back.message);
        const [again] = readAbc(back.text).tunes;
        expect(again?.score).toEqual(tune.score);
        seen += 1;
      });
    }
    expect(seen).toBeGreaterThan(100);
  },
);
