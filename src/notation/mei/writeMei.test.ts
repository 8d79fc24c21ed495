import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { RelaxNGValidator, XmlDocument } from 'libxml2-wasm';
import { describe, expect, test } from 'vitest';
import { wholeNotes } from '../../core/index.ts';
import { addressKey, notesOf, type Score } from '../../score/index.ts';
import { readAbc } from '../abc/index.ts';
import { elementIdOf } from './elementId.ts';
import type { MeiDocument } from './meiDocument.ts';
import { writeMei } from './writeMei.ts';

const DATA = fileURLToPath(new URL('../../../../shared/data/', import.meta.url));
const SCHEMA = `${DATA}standards/mei-5.1/mei-CMN.rng`;
const skipped = !existsSync(SCHEMA);
if (skipped) process.stderr.write('skipped: MEI schema checks, ../shared is not here\n');

const read = (body: string, header = 'M:4/4\nL:1/8\nK:G'): Score => {
  const score = readAbc(`X:1\nT:A test\n${header}\n${body}\n`).tunes[0]?.score;
  if (score === undefined) throw new Error(`no tune in ${body}`);
  return score;
};
const alone = (score: Score): MeiDocument => ({
  title: 'A test',
  composer: null,
  staves: [{ id: 'full', name: null, score }],
});
const written = (body: string, header?: string): string => writeMei(alone(read(body, header)));

/** Ours: every sign that the writer knows. */
const DRESSED = `|:(DE)|"G"~G3B "F#m7"[Dd]2(Bd)|"Bb/D"(ef)g>e .d!accent!BA!fermata!B|{c}B2 (3BBB {ef}(3BcB v!1!A!4!u!2!B|
1 z4 !slide!E4-|E2 x2 D2:|2 z8|E5 F3||
P:B
K:Bb
M:6/8
Q:3/8=60
!trill!B3 !turn!d2c|!uppermordent!B3 !lowermordent!d3|!segno!B3 ^f3|=f3 f'3!D.C.!|[M:3/4][K:Hp]"^slowly"a2 b2 c'2|(5abcde f2|]
w: one two three-four`;

describe('what is written', () => {
  test.each([
    [
      'a pick-up has no number and is no full bar',
      'D|G8|]',
      /<measure xml:id="bar-A-0" metcon="false" right="single">/,
    ],
    ['the first full bar is number 1', 'D|G8|]', /<measure xml:id="bar-A-1" n="1" right="end">/],
    [
      'repeats that meet are one line',
      '|:G8:|:A8:|',
      /left="rptstart" right="rptboth".*<measure[^>]* n="2" right="rptend"/,
    ],
    ['endings are around their bars', '|:G8|1 A8:|2 B8|]', /<ending n="1" label="1\."><measure[^>]*n="2"/],
    [
      'a leading grace group stands before the beam',
      '{c}BA Bc d4|',
      /<graceGrp>.*<\/graceGrp><beam><note xml:id="full-A-0-0"/,
    ],
    ['a grace group inside a beam stays there', 'A{c}B Bc d4|', /<beam><note[^>]*\/><graceGrp>/],
    [
      'a treble is a tuplet around its beam',
      '(3BBB B2 d4|',
      /<tuplet num="3" numbase="2" num.format="count" bracket.visible="false"><beam>/,
    ],
    [
      'a length of five quavers is two tied notes',
      'G5 A3|',
      /<note xml:id="full-A-0-0" dur="2" p|<tie staff="1" startid="#full-A-0-0" endid="#full-A-0-0.p1"\/>/,
    ],
    ['chord names have real signs', '"F#m"G4 "Bb"A4|', />F♯m<.*>B♭</],
    [
      'a drone is a chord with the melody first',
      '[Gd]8|',
      /<chord xml:id="full-A-0-0.c" dur="1"><note xml:id="full-A-0-0" pname="d"/,
    ],
    ['bows stand above', 'vG4 uA4|', /artic="dnbow" place="above".*artic="upbow" place="above"/],
    ['a sharp of the key is heard, not printed', 'F8|', /<accid accid.ges="s"\/>/],
    ['an accidental is printed', '^G8|', /<accid accid="s"\/>/],
    ['cut time has its sign', 'G8|', /<meterSig count="2" unit="2" sym="cut"\/>/, 'M:C|\nL:1/8\nK:G'],
    ['free metre has no metre', 'G8|', /<keySig sig="1s"\/><staffGrp>/, 'M:none\nL:1/8\nK:G'],
    ['tempo has its note value', 'G8|', /mm="60" mm.unit="4" mm.dots="1"/, 'M:4/4\nL:1/8\nQ:3/8=60\nK:G'],
  ])('%s', (_, body, pattern, header?: string) => expect(written(body, header)).toMatch(pattern));

  test('a slur on a note that ends another slur is a second one', () => {
    // Source: ABC standard 2.1, section 4.11, its example `(c d (e) f g a)`.
    const slurs = written('(cd(e)fga) G2|').match(/<slur[^>]*>/g);
    expect(slurs).toEqual([
      '<slur staff="1" startid="#full-A-0-0" endid="#full-A-0-1_4"/>',
      '<slur staff="1" startid="#full-A-0-1_4" endid="#full-A-0-5_8"/>',
    ]);
  });

  test('a finger that stays down is a bracket, a second finger says which it is', () => {
    const score = read('E2!2!G2 B4|e8|');
    const at = (bar: number, num: number, den: number) => ({ part: 'A', bar, onset: wholeNotes(num, den) });
    const mei = writeMei({
      ...alone(score),
      staves: [
        {
          id: 'full',
          name: null,
          score,
          hands: {
            seconds: new Map([['A/0/1:4', 'low'] as const]),
            stayDowns: [{ from: at(0, 0, 1), to: at(0, 1, 2) }],
          },
        },
      ],
    });
    expect(mei).toContain('>L2</fing>');
    expect(mei).toMatch(
      /<bracketSpan staff="1" startid="#full-A-0-0" endid="#full-A-0-1_2" func="unspecified"/,
    );
    if (!skipped) expect(problemsOf(schema(), mei)).toEqual([]);
  });

  test('markup in a title stays text', () => {
    const mei = writeMei({ ...alone(read('G8|')), title: '<b>Fig & Vine</b>\u0007' });
    expect(mei).toContain('<title>&lt;b&gt;Fig &amp; Vine&lt;/b&gt;</title>');
  });
});

describe('a range of bars', () => {
  const score = read('(G8|A8|B8)|c8-|c8|]');
  const range = (from: number, to: number): string =>
    writeMei(alone(score), { range: { from, to }, printsMetre: false });
  test('curves that go out or come in are cut at its edges', () => {
    expect(range(0, 2)).toContain('<slur staff="1" startid="#full-A-0-0" tstamp2="1m+4.9"/>');
    expect(range(2, 3)).toContain('<slur staff="1" tstamp="0" endid="#full-A-2-0"/>');
    expect(range(4, 5)).toContain('<tie staff="1" tstamp="0" endid="#full-A-4-0"/>');
  });
  test('the metre is there and not printed', () =>
    expect(range(1, 2)).toContain('<meterSig count="4" unit="4" visible="false"/>'));
  test('outside the tune is refused', () => expect(() => range(3, 9)).toThrow(RangeError));
});

test('versions with different bars are refused', () => {
  const [a, b] = [read('G8|A8|'), read('G8|')];
  const staves = [
    { id: 'bones', name: null, score: b },
    { id: 'plain', name: null, score: a },
  ] as const;
  expect(() => writeMei({ title: '', composer: null, staves })).toThrow(/different bars/);
});

test('ids are names in XML, whatever the part is called, and differ where addresses do', () => {
  const at = (part: string) => elementIdOf('full', { part, bar: 1, onset: wholeNotes(1, 4), grace: 0 });
  expect(at('A')).toBe('full-A-1-1_4.g0');
  const ids = ['A', 'A-1', 'A_1', "A'", 'Ä 2', '/', '_x2f_'].map(at);
  expect(new Set(ids).size).toBe(ids.length);
  for (const id of ids) expect(id).toMatch(/^[A-Za-z][A-Za-z0-9._-]*$/);
});

test.skipIf(skipped)('every sign is valid MEI and every note is there', () => {
  const validator = schema();
  const score = read(DRESSED);
  const mei = writeMei({
    title: 'Dressed',
    composer: 'Trad.',
    staves: [
      { id: 'bones', name: 'The bones', score },
      { id: 'full', name: 'Full version', score },
    ],
  });
  expect(problemsOf(validator, mei)).toEqual([]);
  // The check itself can fail.
  expect(problemsOf(validator, mei.replace('pname="g"', 'pname="h"'))).not.toEqual([]);
  const ids = new Set([...mei.matchAll(/xml:id="([^"]*)"/g)].map((m) => m[1]));
  for (const { address } of notesOf(score))
    expect(ids.has(elementIdOf('bones', address)), addressKey(address)).toBe(true);
  for (const [, ref] of mei.matchAll(/(?:startid|endid)="#([^"]*)"/g)) expect(ids.has(ref)).toBe(true);
  validator.dispose();
});

const schema = (): RelaxNGValidator => {
  const document = XmlDocument.fromBuffer(readFileSync(SCHEMA));
  const validator = RelaxNGValidator.fromDoc(document);
  document.dispose();
  return validator;
};

const problemsOf = (validator: RelaxNGValidator, mei: string): readonly string[] => {
  const document = XmlDocument.fromString(mei);
  try {
    validator.validate(document);
    return [];
  } catch (error) {
    return [error instanceof Error ? error.message.slice(0, 300) : String(error)];
  } finally {
    document.dispose();
  }
};

/** One tune in so many is checked, so that the test takes seconds. Ours. */
const STRIDE = 25;

test.skipIf(skipped)('tunes of the corpora are valid MEI', () => {
  const validator = schema();
  const folders = ['nottingham-odd', 'oneill-1903-odd'].map((f) => `${DATA}corpora/${f}/`);
  const files = folders
    .flatMap((f) => readdirSync(f).map((name) => f + name))
    .filter((f) => f.endsWith('.abc'));
  const tunes = files
    .flatMap((file) => readAbc(readFileSync(file, 'latin1')).tunes)
    .filter((_, i) => i % STRIDE === 0);
  expect(tunes.length).toBeGreaterThan(20);
  const bad = tunes.flatMap(({ score }) =>
    problemsOf(validator, writeMei(alone(score))).map((p) => `${score.number} ${p}`),
  );
  expect(bad).toEqual([]);
  validator.dispose();
});
