import { describe, expect, test } from 'vitest';
import { pitch } from '../../../music/index.ts';
import { type Address, barsOf, notesOf, placedEvents } from '../../../score/index.ts';
import { readAbc } from '../index.ts';
import { editedAbc } from './editedAbc.ts';
import type { NoteEdit } from './noteEdit.ts';

/** What becomes of a line of music in G when something is done with its notes, which are counted from 0. */
const edited = (music: string, edit: (at: (n: number) => Address) => NoteEdit, header = ''): string => {
  const before = `X:1\nT:t\nM:4/4\nL:1/8\n${header}K:G\n`;
  const text = `${before}${music}\n% end\n`;
  const [tune] = readAbc(text).tunes;
  if (tune === undefined) throw new RangeError('no tune');
  const notes = notesOf(tune.score);
  const result = editedAbc(
    text,
    tune,
    edit((n) => notes[n]?.address ?? ({ ...notes[0]?.address, bar: 99 } as Address)),
  );
  if (result.kind === 'problem') return result.message;
  expect(result.text.startsWith(before)).toBe(true);
  expect(result.text.endsWith('\n% end\n')).toBe(true);
  return result.text.slice(before.length, -'\n% end\n'.length);
};

describe('fingers', () => {
  test.each([
    ['put', 'G2 "D"~A>B  c4 |', 1, 4, 'G2 "D"~!4!A>B  c4 |'],
    ['changed', 'G2 !1!A2 B4|', 1, 2, 'G2 !2!A2 B4|'],
    ['taken away', 'G2 !1!vA2 B4|', 1, null, 'G2 vA2 B4|'],
    ['there already', 'G2 !1!A2 B4|', 1, 1, 'G2 !1!A2 B4|'],
    ['by a letter of the tune', 'U:W = !3!\nWG4 A4|', 1, 3, 'U:W = !3!\nWG4 WA4|'],
    ['before a chord', '(3ABc [Ge]6|', 3, 0, '(3ABc !0![Ge]6|'],
    ['on a note behind a bar line that its sign crosses', '!1! G8| A8|', 0, 2, '!2! G8| A8|'],
  ] as const)('%s', (_, music, n, finger, wanted) => {
    expect(edited(music, (at) => ({ kind: 'finger', at: [at(n)], finger }))).toBe(wanted);
  });

  test('on the tones of a chord, the melody first', () => {
    const put = (music: string, tone: number) =>
      edited(music, (at) => ({
        kind: 'finger',
        at: [{ ...at(0), ...(tone > 0 ? { tone } : {}) }],
        finger: 1,
      }));
    expect(put('[Ae]8|', 1)).toContain('Begin with the other note');
    expect(put('!3![Ae]8|', 1)).toBe('!3!!1![Ae]8|');
  });

  test('on several notes at once', () => {
    const music = 'G2 A2 B2 c2|';
    expect(edited(music, (at) => ({ kind: 'finger', at: [at(0), at(2)], finger: 2 }))).toBe(
      '!2!G2 A2 !2!B2 c2|',
    );
  });
});

describe('bows and ornaments', () => {
  test.each([
    ['the short mark', 'G4 A4|', 'G4 vA4|'],
    ['as the tune writes it', '!downbow!G4 A4|', '!downbow!G4 !downbow!A4|'],
    ['instead of the other', 'G4 !1!uA4|', 'G4 !1!vA4|'],
    [
      'by name where the letter means something else',
      'U:v = !trill!\nG4 A4|',
      'U:v = !trill!\nG4 !downbow!A4|',
    ],
  ])('a down bow: %s', (_, music, wanted) => {
    expect(edited(music, (at) => ({ kind: 'bow', at: [at(1)], bow: 'down' }))).toBe(wanted);
  });

  test('no bow', () => {
    expect(edited('vG4 u.A4|', (at) => ({ kind: 'bow', at: [at(0), at(1)], bow: null }))).toBe('G4 .A4|');
  });

  test('a sign on and off', () => {
    const sign = (music: string, on: boolean) =>
      edited(music, (at) => ({ kind: 'sign', at: [at(1)], sign: 'roll', on }));
    expect(sign('G2 "D" A2 z4|', true)).toBe('G2 "D" ~A2 z4|');
    expect(sign('G2 !roll!v~A2 z4|', false)).toBe('G2 vA2 z4|');
  });

  test('grace notes put, changed and taken away; later notes sound as before', () => {
    const cut = (music: string, names: readonly string[]) =>
      edited(music, (at) => ({ kind: 'graces', at: at(0), pitches: names.map(pitch) }));
    expect(cut('(~"G"G2 A2 B2 c2)|', ['A4'])).toBe('({A}~"G"G2 A2 B2 c2)|');
    expect(cut('{/B}G2 A2 B2 c2|', ['A#4', 'B4'])).toBe('{/^AB}G2 =A2 B2 c2|');
    expect(cut('{^c}{B}G2 A2 B2 c2|', [])).toBe('G2 A2 B2 ^c2|');
  });

  test('what stands in a line of signs is not touched', () => {
    expect(edited('G4 A4|\ns:* !upbow!', (at) => ({ kind: 'bow', at: [at(1)], bow: null }))).toContain('s:');
  });
});

describe('chord symbols', () => {
  test.each([
    ['put before the signs of the note', '{a}~vG4 A4|', 'Em', '{a}"Em"~vG4 A4|'],
    ['changed', '"^slow""D"G4 A4|', 'D7', '"^slow""D7"G4 A4|'],
    ['taken away', '"^slow""D" G4 A4|', null, '"^slow" G4 A4|'],
    ['no chord', 'G4 A4|', 'H', '“H” is no chord that is known here. Write it as in G, Em or D7.'],
  ])('%s', (_, music, text, wanted) => {
    expect(edited(music, (at) => ({ kind: 'chord', at: at(0), text }))).toBe(wanted);
  });
});

describe('slurs', () => {
  test.each([
    ['over a bar line', 'G4 vA4|"D"{c}B4- B4|', 1, 3, 'G4 (vA4|"D"{c}B4- B4)|'],
    ['behind a tie', 'G4 A4-|A4 B4|', 0, 1, '(G4 A4-)|A4 B4|'],
    ['in a tuplet and broken rhythm', '(3ABc d>e f3|', 2, 3, '(3AB(c d)>e f3|'],
    ['meeting another', '(G2A2) B2 c2|', 1, 3, '(G2(A2) B2 c2)|'],
    ['around another', 'G2(A2B2)c2|', 0, 3, '(G2(A2B2)c2)|'],
    ['there already', '(G2A2) B2 c2|', 1, 0, '(G2A2) B2 c2|'],
    [
      'across another',
      '(G2A2B2)c2|',
      1,
      3,
      'This slur would begin inside another and end outside it. Take the other away first.',
    ],
    [
      'over a repeat',
      'G8:|A8|',
      0,
      1,
      'A slur cannot go over the end of a repeat or the beginning of an ending.',
    ],
    ['of one note', 'G8|', 0, 0, 'A slur joins two notes or more. Choose its first and its last note.'],
  ])('on: %s', (_, music, from, to, wanted) => {
    expect(edited(music, (at) => ({ kind: 'slur', from: at(from), to: at(to), on: true }))).toBe(wanted);
  });

  test.each([
    ['the one over a note', '(G2A2B2) (cd)e2|', 1, 1, 'G2A2B2 (cd)e2|'],
    ['those between two notes', '(G2(A2)B2) (cd)e2|', 0, 2, 'G2A2B2 (cd)e2|'],
    ['one that is dotted', '.(G2A2B2)c2|', 0, 1, 'G2A2B2c2|'],
    ['none where none is', '(G2A2)B2c2|', 1, 3, '(G2A2)B2c2|'],
    [
      'one that is a tie',
      'G4-A4|',
      0,
      1,
      'This slur is written as a tie between different notes. Take the - out of the text.',
    ],
  ])('off: %s', (_, music, from, to, wanted) => {
    expect(edited(music, (at) => ({ kind: 'slur', from: at(from), to: at(to), on: false }))).toBe(wanted);
  });
});

describe('pitch', () => {
  test.each([
    ['a step up', 'G2 "D"!1!A>B c4|', 1, 1, 'G2 "D"!1!B>B c4|'],
    ['over the octave', 'b4 B,4|', 0, 1, "c'4 B,4|"],
    ['a step down', 'C4 c4|', 0, -1, 'B,4 c4|'],
    ['its own accidental goes, the next one needs it', '^c2 d2 c2 C2|', 0, -1, 'B2 d2 ^c2 C2|'],
    ['it reads as the bar says', '^c2 d2 e4|', 1, -1, '^c2 c2 e4|'],
    ['tied notes go along', 'G4 c4-|c2 d2 c4|', 1, 1, 'G4 d4-|d2 d2 c4|'],
    ['all tones of a chord stay but the melody', '[DA]4 [EBd]4|', 0, 1, '[DB]4 [EBd]4|'],
  ])('%s', (_, music, n, by, wanted) => {
    expect(edited(music, (at) => ({ kind: 'step', at: [at(n)], by }))).toBe(wanted);
  });

  test('of a chord tone and of a grace note', () => {
    expect(edited('[DA]8|', (at) => ({ kind: 'step', at: [{ ...at(0), tone: 1 }], by: 1 }))).toBe('[EA]8|');
    expect(edited('{/cd}B8|', (at) => ({ kind: 'step', at: [{ ...at(0), grace: 1 }], by: -1 }))).toBe(
      '{/cc}B8|',
    );
  });

  test('to a pitch with an accidental: the other notes keep theirs', () => {
    const music = 'G2 c2 C2 F2|c8|';
    expect(edited(music, (at) => ({ kind: 'pitch', at: at(1), pitch: pitch('C#5') }))).toBe(
      'G2 ^c2 =C2 F2|c8|',
    );
  });

  test('accidentals of one octave only, where the tune asks for it', () => {
    const edit = (at: (n: number) => Address): NoteEdit => ({
      kind: 'pitch',
      at: at(1),
      pitch: pitch('C#5'),
    });
    expect(edited('G2 c2 C2 F2|', edit, '%%propagate-accidentals octave\n')).toBe('G2 ^c2 C2 F2|');
  });

  test('an octave, accidental and all', () => {
    expect(edited('^c2 d2 c2 A2|', (at) => ({ kind: 'octave', at: [at(0), at(2)], by: -1 }))).toBe(
      '^C2 d2 C2 A2|',
    );
    expect(edited('c8|', (at) => ({ kind: 'octave', at: [at(0)], by: 9 }))).toBe(
      'That is outside all hearing.',
    );
  });

  test('a tie that would lead elsewhere is refused', () => {
    const music = '|:c2 d2 c4-:|z8|';
    expect(edited(music, (at) => ({ kind: 'step', at: [at(2)], by: 1 }))).toContain(
      'without changing other notes',
    );
  });
});

describe('length', () => {
  const length = (music: string, n: number, times: 'double' | 'half', other?: number) =>
    edited(music, (at) => ({
      kind: 'length',
      at: at(n),
      times,
      ...(other === undefined ? {} : { with: at(other) }),
    }));
  test('only where the bar stays whole', () => {
    expect(length('d8|G2 A2 B2 c|', 4, 'double')).toBe('d8|G2 A2 B2 c2|');
    expect(length('G2 A2 B2 c2|', 3, 'double')).toContain('would not be whole');
  });
  test('a neighbour gives or takes', () => {
    expect(length('G2 A4 B2|', 0, 'double', 1)).toBe('G4 A2 B2|');
    expect(length('GA A4 B2|', 0, 'half', 1)).toBe('G/2A3/2 A4 B2|');
    expect(length('[GB]2 A4 B2|', 0, 'half', 1)).toBe('[GB] A5 B2|');
    expect(length('G2 A2 B4|', 0, 'double', 1)).toBe('The other note is too short to give so much time.');
  });
});

test('a rest is no note; a place that is gone is said to be', () => {
  const text = 'X:1\nT:t\nM:4/4\nL:1/8\nK:G\nz4 G4|\n';
  const [tune] = readAbc(text).tunes;
  const [first] = tune === undefined ? [] : barsOf(tune.score);
  const [rest] = first === undefined ? [] : placedEvents(first.bar);
  if (tune === undefined || rest === undefined) throw new RangeError('no tune');
  const at = { part: 'A', bar: 0, onset: rest.onset };
  expect(editedAbc(text, tune, { kind: 'bow', at: [at], bow: 'up' })).toEqual({
    kind: 'problem',
    message: 'This is a rest. Point at a note.',
  });
  expect(editedAbc(text, tune, { kind: 'bow', at: [{ ...at, bar: 7 }], bow: 'up' }).kind).toBe('problem');
  expect(editedAbc(text, tune, { kind: 'chord', at, text: 'G' })).toMatchObject({
    change: [{ from: 24, to: 24, insert: '"G"' }],
  });
});

test('a macro is not taken apart', () => {
  expect(edited('m:~G2 = {A}G{F}G\n~G2 A2 B4|', (at) => ({ kind: 'step', at: [at(0)], by: 1 }))).toContain(
    'macro',
  );
});
