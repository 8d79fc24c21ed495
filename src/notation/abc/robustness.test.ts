import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readAbc, writeAbc } from './index.ts';
import { MOST_TEXT } from './limits.ts';

/** Small invented tunes that use most of the syntax. */
const EXAMPLES = readFileSync(new URL('../testing/examples.abc', import.meta.url), 'utf8').split('\n\n\n');
const SEED = 20_260_802;

/** Reads, checks that every span lies in the text, and that what was written reads back the same. */
const readsSafely = (text: string): void => {
  const book = readAbc(text);
  for (const { span } of book.diagnostics) {
    if (span !== undefined)
      expect(span.start >= 0 && span.start <= span.end && span.end <= text.length).toBe(true);
  }
  for (const tune of book.tunes) {
    for (const span of tune.spans.values())
      expect(span.start < span.end && span.end <= text.length).toBe(true);
    if (tune.score.parts.length === 0) continue;
    const written = writeAbc(tune.score);
    expect(
      readAbc(written).tunes.map((t) => t.score),
      `${text}\n----\n${written}`,
    ).toEqual([tune.score]);
  }
};

const SIGNS = [
  ...'ABCDEFGabcdefgzxyZX',
  ...'|:[](){}<>-"!+&.,\'/^_=~%\\ \n0123456789*$`',
  '[K:G]',
  '[M:3/4]',
  'K:Em\n',
  'P:B\n',
  '::',
  '(3',
  ':|2',
  '{/g}',
  '\\\n',
  'w:',
  's:',
  '[V:2]',
  '\u0000',
  '\uD800',
  'é',
];

test('random signs behind a header', () => {
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...SIGNS), { maxLength: 60 }), (signs) => {
      readsSafely(`X:1\nT:t\nM:4/4\nK:D\n${signs.join('')}`);
    }),
    { seed: SEED, numRuns: 800 },
  );
});

test('random bytes', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), fc.boolean(), (bytes, tune) => {
      readsSafely((tune ? 'X:1\nK:C\n' : '') + String.fromCharCode(...bytes));
    }),
    { seed: SEED, numRuns: 400 },
  );
});

const change = fc.record({ at: fc.nat(1000), cut: fc.nat(4), put: fc.constantFrom('', ...SIGNS) });

test('real tunes with small slips', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...EXAMPLES),
      fc.array(change, { minLength: 1, maxLength: 5 }),
      (tune, changes) => {
        let text = tune;
        for (const { at, cut, put } of changes) {
          const place = at % (text.length + 1);
          text = text.slice(0, place) + put + text.slice(place + cut);
        }
        readsSafely(text);
      },
    ),
    { seed: SEED, numRuns: 500 },
  );
});

describe('size', () => {
  const header = 'X:1\nT:t\nM:4/4\nL:1/8\nK:D\n';
  const LENGTH = 60_000;
  test.each([
    ['quotes', '"'],
    ['brackets', '['],
    ['braces', '{'],
    ['parentheses', '('],
    ['backslashes', '\\ '],
    ['ampersands', '&'],
    ['colons', ':'],
    ['bar lines', '|'],
    ['accidentals', '^'],
    ['octave marks', "c'"],
    ['digits', 'c9'],
    ['slashes', 'c/'],
    ['exclamations', '!a'],
    ['pluses', '+c'],
    ['decorations', '!roll!'],
    ['ties', 'c-'],
    ['broken rhythm', 'c>'],
    ['tuplets', '(3'],
    ['repeats', '|:c:|'],
    ['endings', 'c|1'],
    ['fields', '[K:G]'],
    ['lines', '\nc|'],
    ['words', '\nc\nw:a-b\n'],
    ['comments', 'c %\n'],
    ['tunes', '\n\nX:1\nK:G\nc\n'],
  ])('sixty thousand letters of %s are read in a moment', (_, sign) => {
    const before = process.cpuUsage();
    const book = readAbc(header + sign.repeat(LENGTH / sign.length));
    expect(book.tunes.length).toBeGreaterThan(0);
    const spent = process.cpuUsage(before);
    // The processor's own time: what other programs take of it says nothing about the reader.
    expect((spent.user + spent.system) / 1000).toBeLessThan(3000);
  });

  test('a text over the limit is refused with the limit named', () => {
    const book = readAbc(' '.repeat(MOST_TEXT + 1));
    expect(book.tunes).toEqual([]);
    expect(book.diagnostics.map((d) => d.code)).toEqual(['text-too-long']);
    expect(book.diagnostics[0]?.message).toContain('5 MB');
  });

  test('a tune over the limit of bars is read so far', () => {
    const book = readAbc(`${header}${'c|'.repeat(20_050)}`);
    expect(book.diagnostics.map((d) => d.code)).toContain('too-many-bars');
    expect(book.tunes[0]?.score.parts.flatMap((p) => p.bars)).toHaveLength(20_000);
  });

  test.each([
    ['c1/0 d', 'length-absurd'],
    ['c999999999', 'length-absurd'],
    ['c0', 'length-absurd'],
    ['c/3 c/7 c/11 c/13 c/17 c/19 c/23', 'length-absurd'],
    ['(10000cde', 'tuplet-absurd'],
    ['(3:0:0cde', 'tuplet-absurd'],
    ["c'''''''''", 'pitch-absurd'],
    ['C,,,,,,,,', 'pitch-absurd'],
    ['Z99999', 'bar-rest-absurd'],
    ['{[{g}]c', 'grace-unexpected-sign'],
  ])('%s is %s', (music, code) => {
    expect(readAbc(header + music).diagnostics.map((d) => d.code)).toContain(code);
  });

  test('a repeat that unfolds without end is an error', () => {
    const book = readAbc(`${header}${'c|'.repeat(2000)}[1-16 c:|`);
    expect(book.diagnostics.find((d) => d.code === 'too-many-bars')?.severity).toBe('error');
  });
});
