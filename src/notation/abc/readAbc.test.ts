import { describe, expect, test } from 'vitest';
import { placeFinder } from '../../core/index.ts';
import { addressKey, barsOf, fieldsOf, notesOf, titleOf } from '../../score/index.ts';
import { codesOf, lengthsOf, pitchesOf, readOne } from '../testing/readOne.ts';
import { readAbc, writeAbc } from './index.ts';

describe('tune books', () => {
  const BOOK =
    '\uFEFF%abc-2.1\nO:Nowhere\nM:6/8\nR:jig\n\nX:1\nT:One\nK:G\nGAB|\n\nfree text: not music\n\nX:1\nT:Two\nR:reel\nM:4/4\nK:D\nd|\n';
  test('the file header holds for all tunes that do not say otherwise', () => {
    const [one, two] = readAbc(BOOK).tunes.map((t) => t.score);
    expect([one?.metre, two?.metre]).toEqual([
      { kind: 'measured', count: 6, unit: 8 },
      { kind: 'measured', count: 4, unit: 4 },
    ]);
    expect([one, two].map((s) => s && fieldsOf(s, 'R'))).toEqual([['jig'], ['reel']]);
    expect([one, two].map((s) => s && fieldsOf(s, 'O'))).toEqual([['Nowhere'], ['Nowhere']]);
  });
  test('repeated numbers are said', () => {
    expect(readAbc(BOOK).diagnostics.map((d) => d.code)).toContain('number-repeated');
  });
  test.each(['', '   ', 'just words', '\0\0\0'])('%j holds no tune', (text) => {
    expect(readAbc(text)).toMatchObject({ tunes: [], diagnostics: [{ code: 'no-tune', severity: 'error' }] });
  });
  test.each(['\n', '\r\n', '\r'])('line ends %j', (end) => {
    const book = readAbc(['X:7', 'T:Lines', 'K:G', 'GAB|', 'c|'].join(end));
    expect(book.tunes[0]?.score.number).toBe(7);
    expect(barsOf(book.tunes[0]?.score ?? readOne('A').score)).toHaveLength(2);
  });
});

describe('fields', () => {
  test.each([
    ["Caf\\'e", 'Café'],
    ['Caf&eacute;', 'Café'],
    ['Caf\\u00e9', 'Café'],
    ['Fish \\& chips 100\\%', 'Fish & chips 100%'],
    ['\\"Uber \\ss', 'Über ß'],
    ['a & b; c \\ d', 'a & b; c \\ d'],
  ])('T:%s is %s', (written, title) => {
    expect(titleOf(readAbc(`X:1\nT:${written}\nK:G\nG|\n`).tunes[0]?.score ?? readOne('A').score)).toBe(
      title,
    );
  });
  test.each([
    ['1/4=120', '1/4=120'],
    ['"Lively" 1/2=100', '"Lively" 1/2=100'],
    ['3/8=50 "Slowly"', '"Slowly" 3/8=50'],
    ['1/4 3/8=40', '5/8=40'],
    ['"Andante"', '"Andante"'],
    ['120', '1/8=120'],
    ['C=120', '1/8=120'],
    ['C3=40', '3/8=40'],
  ])('Q:%s', (written, meant) => {
    expect(writeAbc(readOne('G|', `M:6/8\nL:1/8\nQ:${written}\nK:G`).score)).toContain(`\nQ:${meant}\n`);
  });
  test('unknown fields, comments and directives are kept', () => {
    const text = writeAbc(
      readOne('% inside\nG|\n%%vskip 1\nA|', 'Y:AB\n% before\n%%scale 0.8\nM:4/4\nL:1/8\nK:G').score,
    );
    for (const kept of ['Y:AB', '% before', '%%scale 0.8', '% inside', '%%vskip 1'])
      expect(text).toContain(`${kept}\n`);
  });
  test('an H: goes on over lines; +: continues a field', () => {
    const { score } = readOne('G|', 'H:Once upon\na time\nN:one\n+:two\nM:4/4\nK:G');
    expect([fieldsOf(score, 'H'), fieldsOf(score, 'N')]).toEqual([['Once upon a time'], ['one two']]);
  });
  test('key, metre and length behind K: are the tune’s own where no note stands before them', () => {
    const { score } = readOne('M:6/8\nK:D\nR:jig\nG|', 'M:4/4\nL:1/8\nK:G');
    expect(score.metre).toMatchObject({ count: 6, unit: 8 });
    expect([score.key.tonic?.step, fieldsOf(score, 'R')]).toEqual(['D', ['jig']]);
  });
  test('P: in the header orders parts that P: in the music names', () => {
    expect(readOne('P:A\nG|\nP:B\nA|', 'P:A2(BA)2\nM:4/4\nK:G').score.partOrder).toEqual([...'AABABA']);
    const other = readOne('G|', 'P:ABAC\nM:4/4\nK:G');
    expect(other.score.partOrder).toBeNull();
    expect(codesOf(other)).toContain('part-order-unread');
  });
});

describe('music', () => {
  test('U: gives letters a meaning, m: puts notes in', () => {
    const tune = readOne('WA ~G2', 'U:W = !trill!\nm:~G2 = {A}G{F}G\nM:4/4\nL:1/8\nK:C');
    expect(notesOf(tune.score).map(({ note }) => [note.signs, note.graces?.pitches.length ?? 0])).toEqual([
      [['trill'], 0],
      [[], 1],
      [[], 1],
    ]);
  });
  test('a transposing macro follows its note', () => {
    expect(pitchesOf(readOne('~A2 ~c2', 'm:~n2 = non\nM:4/4\nL:1/8\nK:C'))).toEqual([
      'A4',
      'B4',
      'A4',
      'C5',
      'D5',
      'C5',
    ]);
  });
  test('words and signs on lines of their own stand at their notes', () => {
    const { score } = readOne('AB cd|\nw: one two- _ *\ns: "Am" * !trill! "^here"');
    expect(notesOf(score).map(({ note }) => note.lyric)).toEqual(['one', 'two-', '_', null]);
    expect(notesOf(score)[2]?.note.signs).toEqual(['trill']);
    const [placed] = barsOf(score);
    expect(placed?.bar.chords.map((c) => c.text)).toEqual(['Am']);
    expect(placed?.bar.annotations.map((a) => a.text)).toEqual(['here']);
  });
  test('of several voices the first is the tune', () => {
    const tune = readOne('V:1\nAB|\nV:2\nCD|\nV:1\ncd|');
    expect(pitchesOf(tune)).toEqual(['A4', 'B4', 'C5', 'D5']);
    expect(codesOf(tune)).toContain('other-voice');
  });
  test('of an overlay only chord symbols are kept', () => {
    const tune = readOne('A4 & "Am"x2 "D"x2 | c');
    expect(pitchesOf(tune)).toEqual(['A4', 'C5']);
    expect(barsOf(tune.score)[0]?.bar.chords.map((c) => [c.text, c.onset.num / c.onset.den])).toEqual([
      ['Am', 0],
      ['D', 1 / 4],
    ]);
    expect(codesOf(tune)).toContain('overlay-ignored');
  });
  test('a rest of bars is so many bars', () => {
    expect(lengthsOf(readOne('Z3|A'))).toEqual(['1', '1', '1', '1/8']);
  });
  test('a backslash joins lines; a line end does not beam or end a bar', () => {
    expect(barsOf(readOne('AB\\\ncd|').score)).toHaveLength(1);
    const open = barsOf(readOne('AB cd\nef ga|').score).map(({ bar }) => [bar.line, bar.lineEnd, bar.role]);
    expect(open).toEqual([
      ['none', true, 'pickup'],
      ['single', true, 'restOfBar'],
    ]);
  });
  test('ties between different notes are old slurs', () => {
    const tune = readOne('A-B-c d-d|');
    const joins = notesOf(tune.score).map(
      ({ note }) => `${note.slurs.opens}${note.slurs.closes}${note.tiedToNext ? '-' : ''}`,
    );
    expect(joins).toEqual(['10', '00', '01', '00-', '00']);
    expect(codesOf(tune)).toContain('tie-as-slur');
  });
  test('a tie back over a repeat stays', () => {
    const tune = readOne('|:A8|B6A2-:|');
    expect(notesOf(tune.score).at(-1)?.note.tiedToNext).toBe(true);
  });
  test('nested slurs, and slurs around grace notes', () => {
    const slurs = notesOf(readOne('(A(Bc)d) ({g}AB)').score).map(({ note }) => [
      note.slurs.opens,
      note.slurs.closes,
    ]);
    expect(slurs).toEqual([
      [1, 0],
      [1, 0],
      [0, 1],
      [0, 1],
      [1, 0],
      [0, 1],
    ]);
  });
  test('spaces say what is beamed', () => {
    const beams = notesOf(readOne('AB cd`e(3fga b|').score).map(({ note }) =>
      note.beamedToNext ? '_' : ' ',
    );
    expect(beams.join('')).toBe('_ _____  ');
  });
});

describe('spans', () => {
  const text = 'X:1\nT:Spans\nM:4/4\nL:1/8\nK:D\nA2|{gf}"D"e2 [dA]4 z2|\n';
  const [tune] = readAbc(text).tunes;
  const at = (key: string): string | undefined => {
    const span = tune?.spans.get(key);
    return span && text.slice(span.start, span.end);
  };
  test.each([
    ['A/0/0', 'A2'],
    ['A/1/0', 'e2'],
    ['A/1/0.g0', 'g'],
    ['A/1/0.g1', 'f'],
    ['A/1/1:4', '[dA]4'],
    ['A/1/3:4', 'z2'],
  ])('%s is %s', (key, written) => expect(at(key)).toBe(written));
  test('every note has one', () => {
    for (const { address } of notesOf(tune?.score ?? readOne('A').score))
      expect(at(addressKey(address))).toBeDefined();
  });
  test('a bar goes from its first sign to the end of its line', () => {
    const span = tune?.barSpans.get('A/1');
    expect(span && text.slice(span.start, span.end)).toBe('e2 [dA]4 z2|');
  });
});

describe('problems', () => {
  test.each([
    ['A [ceg|', 'chord-unclosed', 'error'],
    ['{gA|', 'grace-unclosed', 'error'],
    ['"Am A|', 'quote-unclosed', 'error'],
    ['(AB|', 'slur-unclosed', 'warning'],
    ['AB)|', 'slur-unopened', 'warning'],
    ['A ? B|', 'sign-unknown', 'warning'],
    ['RA|', 'letter-without-meaning', 'remark'],
    ['z-A|', 'tie-leads-nowhere', 'warning'],
    ['A-z|', 'tie-leads-nowhere', 'warning'],
    ['>A|', 'broken-rhythm-alone', 'warning'],
    ['A8>|', 'broken-rhythm-alone', 'warning'],
    ['(3AB|', 'tuplet-incomplete', 'warning'],
    ['"Xyz"A8|', 'chord-symbol-unknown', 'remark'],
    ['A8|[K:Q]A8|', 'key-unreadable', 'error'],
    ['A8|[M:5/7]A8|', 'metre-unreadable', 'error'],
    ['A8|[L:2/3]A8|', 'unit-unreadable', 'error'],
    ['A8 B8|', 'bar-too-long', 'warning'],
    ['A8|B6|c8|', 'bar-too-short', 'warning'],
    ['G,,8|', 'below-the-fiddle', 'warning'],
    ["c'8|", 'above-first-position', 'remark'],
    ['[K:C bass]A8|', 'clef-or-transposition-ignored', 'remark'],
    ['w: la\nA8|', 'lyrics-without-music', 'warning'],
  ])('%s: %s', (music, code, severity) => {
    const found = readOne(music).diagnostics.find((d) => d.code === code);
    expect(found?.severity).toBe(severity);
    expect(found?.span).toBeDefined();
  });

  test('all are listed, with their places', () => {
    const text = 'X:1\nT:t\nM:4/4\nL:1/8\nK:G\nA8|?B8|\n[ceg|\n';
    const place = placeFinder(text);
    const found = readAbc(text).diagnostics.flatMap((d) =>
      d.span === undefined ? [] : [[d.code, place(d.span.start)]],
    );
    expect(found).toContainEqual(['sign-unknown', { line: 6, column: 4 }]);
    expect(found).toContainEqual(['chord-unclosed', { line: 7, column: 1 }]);
  });

  test('a pick-up, and the room that is left for it, is no problem', () => {
    expect(codesOf(readOne('|:A2|B8|c6:|d2|e8|f6|]'))).toEqual([]);
  });
  // Common practice: in a repeated part the last bar is short by the pick-up.
  test('a full last bar before a repeat to a pick-up is a problem with a remedy', () => {
    const found = readOne('|:A2|B8|c8:|').diagnostics;
    expect(found.map((d) => d.code)).toEqual(['last-bar-full-with-pickup']);
    expect(found[0]?.hint).toContain('by 1 crotchet');
  });
  test('a bar of two bars’ length lacks a bar line', () => {
    expect(readOne('A8 B8|c8|').diagnostics[0]?.hint).toContain('a bar line is missing');
  });
  test('a tune whose bars are all half as long as they should be lacks its L:', () => {
    expect(codesOf(readOne('ABcd|ABcd|ABcd|ABcd|', 'M:2/4\nK:G'))).toContain('unit-doubtful');
  });
  test('a missing title, key and number are said and the rest is read', () => {
    const [tune] = readAbc('X:\nM:4/4\nGABc|').tunes;
    expect(tune?.diagnostics.map((d) => d.code)).toEqual(
      expect.arrayContaining(['number-missing', 'title-missing', 'key-missing']),
    );
    expect(tune && notesOf(tune.score)).toHaveLength(4);
  });
  test('a flood of warnings is cut and counted, and hides no error', () => {
    const found = readOne(`${'A|'.repeat(400)}[c`).diagnostics;
    expect(found.some((d) => d.code === 'chord-unclosed')).toBe(true);
    expect(found.at(-1)?.code).toBe('more-problems');
  });
});
