import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { formatRational } from '../../core/index.ts';
import { accidentalsOf, formatPitch, midiOf, plainFifthsOf } from '../../music/index.ts';
import { barsOf, notesOf, playedOrder } from '../../score/index.ts';
import { codesOf, lengthsOf, pitchesOf, readOne } from '../testing/readOne.ts';
import { readKey } from './keyField.ts';

// Source of all numbers here: The abc music standard 2.1 (December 2011), sections as named.

const TABLES = new URL('../../../../shared/data/standards/abc-2.1/tables.json', import.meta.url);

describe('3.1.14 keys', () => {
  test.skipIf(!existsSync(TABLES))('all 105 names of the published table', () => {
    const { key_signatures_3_1_14: rows } = JSON.parse(readFileSync(TABLES, 'utf8')) as {
      key_signatures_3_1_14: readonly { fifths: number; keys: Record<string, string> }[];
    };
    const read = rows.flatMap(({ fifths, keys }) => Object.values(keys).map((name) => ({ name, fifths })));
    expect(read).toHaveLength(105);
    for (const { name, fifths } of read) {
      const { key } = readKey(name);
      expect(key === null ? null : plainFifthsOf(key), name).toBe(fifths);
    }
  });

  test.each([
    ['C', 0],
    ['A#m', 7],
    ['G#Mix', 7],
    ['D#Dor', 7],
    ['E#Phr', 7],
    ['F#Lyd', 7],
    ['B#Loc', 7],
    ['Abm', -7],
    ['FLoc', -6],
    ['BbLyd', -1],
    ['Ador', 1],
    ['a dorian', 1],
    ['AMIXOLYDIAN', 2],
    ['E minor', 1],
    ['Em', 1],
    ['G Major', 1],
    ['D ionian', 2],
    ['Daeolian', -1],
  ])('%s has %i sharps or flats', (name, fifths) => {
    const { key, problem } = readKey(name);
    expect(problem).toBe('none');
    expect(key === null ? null : plainFifthsOf(key)).toBe(fifths);
  });

  test.each([
    ['D Phr ^f', { B: -1, E: -1, F: 1 }],
    ['D exp _b _e ^f', { B: -1, E: -1, F: 1, C: 0 }],
    ['Hp', { F: 1, C: 1, G: 0 }],
    ['none', { F: 0, C: 0, B: 0 }],
    ['', { F: 0, C: 0, B: 0 }],
  ])('K:%s', (name, expected) => expect(readKey(name).key?.accidentals).toMatchObject(expected));

  test('more than seven sharps, and words that are no key, are errors', () => {
    expect(readKey('G#').problem).toBe('tooManyAccidentals');
    expect(readKey('hello').problem).toBe('unreadable');
    expect(readKey('G wibble').problem).toBe('unknownMode');
    expect(readKey('clef=bass').key).toBeNull();
    expect(accidentalsOf(0).F).toBe(0);
  });
});

test.each([
  ['2/4', '1/16'],
  ['3/8', '1/16'],
  ['3/4', '1/8'],
  ['4/4', '1/8'],
  ['6/8', '1/8'],
  ['C', '1/8'],
  ['C|', '1/8'],
  ['none', '1/8'],
])('3.1.7 without L: a note in %s lasts %s', (metre, length) =>
  expect(lengthsOf(readOne('A', `M:${metre}\nK:C`))).toEqual([length]),
);

test('3.1.7 a metre change in the body does not change the note length', () => {
  expect(lengthsOf(readOne('A|\nM:2/4\nA|', 'M:4/4\nK:C'))).toEqual(['1/8', '1/8']);
});

test.each([
  ['A>B', '3/16 1/16'],
  ['A<B', '1/16 3/16'],
  ['A>>B', '7/32 1/32'],
  ['A<<B', '1/32 7/32'],
  ['A>>>B', '15/64 1/64'],
  ['A<<<B', '1/64 15/64'],
  ['A<{g}A', '1/16 3/16'],
  ['A{g}<A', '1/16 3/16'],
  ['A/2{g}A3/2', '1/16 3/16'],
  ['a>b c<d abcd', '3/16 1/16 1/16 3/16 1/8 1/8 1/8 1/8'],
  ['a3/2b/2 c/2d3/2 abcd', '3/16 1/16 1/16 3/16 1/8 1/8 1/8 1/8'],
])('4.4 broken rhythm: %s', (music, lengths) => expect(lengthsOf(readOne(music)).join(' ')).toBe(lengths));

describe('4.13 tuplets', () => {
  const TUPLET_NOTES = 'ABcdefgab';
  test.each([
    ['4/4', [3, 2, 3, 2, 2, 2, 3, 2]],
    ['6/8', [3, 2, 3, 3, 2, 3, 3, 3]],
    ['9/8', [3, 2, 3, 3, 2, 3, 3, 3]],
    ['12/8', [3, 2, 3, 3, 2, 3, 3, 3]],
    ['3/4', [3, 2, 3, 2, 2, 2, 3, 2]],
  ])('in %s (2 to (9 stand for %j notes', (metre, normals) => {
    normals.forEach((normal, i) => {
      const p = i + 2;
      const tune = readOne(`(${p}${TUPLET_NOTES.slice(0, p)}`, `M:${metre}\nL:1/8\nK:C`);
      const tuplets = notesOf(tune.score).map(({ note }) => note.tuplet);
      expect(tuplets).toEqual(
        Array.from({ length: p }, (_, index) => ({ actual: p, normal, index, count: p })),
      );
    });
  });
  test.each(['(3', '(3::', '(3:2', '(3:2:3'])('%s are one and the same', (sign) =>
    expect(lengthsOf(readOne(`${sign}ABc d`))).toEqual(['1/12', '1/12', '1/12', '1/8']),
  );
  test.each([
    ['(3:2:2 G4c2', '1/3 1/6'],
    ['(3:2:4 G2A2Bc', '1/6 1/6 1/12 1/12'],
    ['(3 D2E2F2', '1/6 1/6 1/6'],
    ['(3 D3EF2', '1/4 1/12 1/6'],
  ])('%s', (music, lengths) => expect(lengthsOf(readOne(music)).join(' ')).toBe(lengths));
});

describe('4.8 to 4.10 bar lines, repeats and endings', () => {
  const played = (music: string): string => {
    const { score } = readOne(music, 'M:1/8\nL:1/8\nK:C');
    const names = new Map(
      barsOf(score).map(({ bar, part, index }) => {
        const [event] = bar.events;
        return [`${part}/${index}`, event?.kind === 'note' ? formatPitch(event.pitches[0]).charAt(0) : 'z'];
      }),
    );
    return playedOrder(score)
      .map(({ part, bar }) => names.get(`${part}/${bar}`))
      .join('');
  };
  test.each([
    ['|:A|B:|', 'ABAB'],
    ['A|B:|', 'ABAB'],
    ['A||B:|', 'ABB'],
    ['A::B:|', 'AABB'],
    ['A:|:B:|', 'AABB'],
    ['A:||:B:|', 'AABB'],
    ['|::A::|B|]', 'AAAB'],
    ['A|1 B:|2 C||', 'ABAC'],
    ['A|[1 B:|[2 C||', 'ABAC'],
    ['A| [1 B :| [2 C |]', 'ABAC'],
    ['|:A|[1,3 B:|[2 C:|D|', 'ABACABD'],
    ['|:A|[1-3 B:|[4 C||', 'ABABABAC'],
  ])('%s is played %s', (music, order) => expect(played(music)).toBe(order));

  test.each([
    ['A|B', 'single'],
    ['A||B', 'double'],
    ['A|]B', 'final'],
    ['A[|B', 'startHeavy'],
    ['A.|B', 'dotted'],
    ['A[|]B', 'invisible'],
  ])('%s', (music, line) => expect(barsOf(readOne(music).score)[0]?.bar.line).toBe(line));

  test('an odd bar line is read as the nearest and said', () => {
    const tune = readOne('AA|||BB|:|');
    expect(codesOf(tune).filter((c) => c === 'bar-line-odd')).toHaveLength(2);
    expect(barsOf(tune.score).map(({ bar }) => bar.repeatEnd)).toEqual([0, 1]);
  });
});

test.each([
  ['.A', 'staccato'],
  ['~A', 'roll'],
  ['HA', 'fermata'],
  ['LA', 'accent'],
  ['MA', 'lowerMordent'],
  ['OA', 'coda'],
  ['PA', 'upperMordent'],
  ['SA', 'segno'],
  ['TA', 'trill'],
  ['uA', 'up'],
  ['vA', 'down'],
  ['!roll!A', 'roll'],
  ['+trill+A', 'trill'],
  ['!3!A', '3'],
  ['!arpeggio!A', 'arpeggio'],
])('4.14 %s is %s', (music, meaning) => {
  const [placed] = notesOf(readOne(music).score);
  const note = placed?.note;
  const found = [...(note?.signs ?? []), ...(note?.marks ?? []), note?.bow, ...(note?.fingers ?? [])];
  expect([...found, ...(note?.otherDecorations ?? [])].filter((x) => x != null).map(String)).toEqual([
    meaning,
  ]);
});

describe('4.17 chords and unisons', () => {
  const shown = (music: string): string =>
    notesOf(readOne(music).score)
      .map(({ note }) => `${note.pitches.map(midiOf).sort().join('+')}×${formatRational(note.length)}`)
      .join(' ');
  test('[C2E2G2]3 is [CEG]6', () => expect(shown('[C2E2G2]3')).toBe(shown('[CEG]6')));
  test('[DD] is one note on two strings', () => expect(shown('[DD]')).toBe('62+62×1/8'));
});

test('4.20 everything that may stand before a note belongs to it', () => {
  const [placed] = notesOf(readOne('{g}"Am"!trill!^c\'2-c\'2').score);
  expect(placed?.note).toMatchObject({
    pitches: [{ step: 'C', alter: 1, octave: 6 }],
    signs: ['trill'],
    graces: { pitches: [{ step: 'G', alter: 0, octave: 5 }], slashed: false },
    tiedToNext: true,
  });
  expect(barsOf(readOne('{g}"Am"!trill!^c2').score)[0]?.bar.chords.map((c) => c.text)).toEqual(['Am']);
});

describe('11.3 accidentals', () => {
  test.each([
    ['hold in all octaves to the bar line', '^FfF,f|f', 'F#4 F#5 F#3 F#5 F5'],
    ['are taken back by a natural', '^FF=FF|F', 'F#4 F#4 F4 F4 F4'],
    ['are carried over the bar line by a tie, for its own note', '^f4-|fgaf', 'F#5 F#5 G5 A5 F5'],
    ['hold on where a bar goes on in the next line', '^F2\nF2|F', 'F#4 F#4 F4'],
  ])('%s', (_, music, pitches) => expect(pitchesOf(readOne(music)).join(' ')).toBe(pitches));
  test('%%propagate-accidentals octave keeps them in their octave', () => {
    const tune = readOne('^Ff', '%%propagate-accidentals octave\nM:4/4\nL:1/8\nK:C');
    expect(pitchesOf(tune)).toEqual(['F#4', 'F5']);
  });
  test('a key names its own, a change holds from where it stands', () => {
    expect(pitchesOf(readOne('F|[K:D]F|F [K:F]F B', 'M:4/4\nL:1/8\nK:C'))).toEqual([
      'F4',
      'F#4',
      'F#4',
      'F4',
      'Bb4',
    ]);
  });
});
