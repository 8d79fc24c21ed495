import { XmlDocument } from 'libxml2-wasm';
import { describe, expect, test } from 'vitest';
import { wholeNotes } from '../../core/index.ts';
import { pitch } from '../../music/index.ts';
import { plainNote, type Score } from '../../score/index.ts';
import { readAbc } from '../abc/index.ts';
import { musicXmlProblems } from '../testing/musicXmlProblems.ts';
import { readMusicXml } from '../testing/readMusicXml.ts';
import type { MusicXmlDocument } from './musicXmlDocument.ts';
import { writeMusicXml } from './writeMusicXml.ts';

const scoreOf = (body: string, header = 'M:4/4\nL:1/8\nK:D'): Score => {
  const [tune] = readAbc(`X:1\nT:Example\n${header}\n${body}\n`).tunes;
  if (tune === undefined) throw new Error('no tune');
  return tune.score;
};
const documentOf = (score: Score, more: Partial<MusicXmlDocument> = {}): MusicXmlDocument => ({
  title: 'Example',
  parts: [{ id: 'full', name: 'Full version', score }],
  ...more,
});
const written = (body: string, header?: string): string => writeMusicXml(documentOf(scoreOf(body, header)));

/** The texts (or, for "@name", the values) that a path finds. */
const found = (text: string, path: string): readonly string[] => {
  const document = XmlDocument.fromString(text);
  const all = document.find(path).map((node) => node.content.trim());
  document.dispose();
  return all;
};
/** Names of the elements that a path finds. */
const named = (text: string, path: string): readonly string[] => {
  const document = XmlDocument.fromString(text);
  const all = document.find(path).map((node) => ('name' in node ? String(node.name) : ''));
  document.dispose();
  return all;
};
/** The written tune reads back as its score says. */
const soundReading = (body: string, header?: string): void => {
  const score = scoreOf(body, header);
  for (const measures of readMusicXml(writeMusicXml(documentOf(score))).values())
    expect(musicXmlProblems(score, measures)).toEqual([]);
};

describe('keys and metres', () => {
  // Source: MusicXML 4.0, element key: fifths and mode, or steps and alterations.
  test.each([
    ['D', ['2', 'major']],
    ['Ador', ['1', 'dorian']],
    ['Bb', ['-2', 'major']],
    ['Gm', ['-2', 'minor']],
    ['none', ['0', 'none']],
    ['D Phr ^f', ['F', '1', 'B', '-1', 'E', '-1']],
  ])('K:%s', (key, expected) => {
    const text = written('D8|', `M:4/4\nL:1/8\nK:${key}`);
    expect(found(text, '//key/*').toSorted()).toEqual(expected.toSorted());
  });
  test.each([
    ['C|', [['cut'], ['2', '2']]],
    ['C', [['common'], ['4', '4']]],
    ['6/8', [[], ['6', '8']]],
    ['(2+2+3)/8', [[], ['2+2+3', '8']]],
  ])('M:%s', (metre, [symbol, numbers]) => {
    const text = written('D2|', `M:${metre}\nL:1/8\nK:D`);
    expect(found(text, '//time/@symbol')).toEqual(symbol);
    expect(found(text, '//time/*')).toEqual(numbers);
  });
  test('free metre has none', () => {
    expect(named(written('D2 E5|', 'M:none\nL:1/8\nK:D'), '//time/*')).toEqual(['senza-misura']);
  });
  test('a change of key or metre stands where it happens, and only what changes', () => {
    const text = written('D8|\nK:G\nD8|\nM:3/4\nD6|D6|]');
    expect(named(text, '//measure[2]/attributes/*')).toEqual(['key']);
    expect(named(text, '//measure[3]/attributes/*')).toEqual(['time']);
    expect(named(text, '//measure[4]/attributes')).toEqual([]);
  });
});

describe('bars', () => {
  test('numbers as printed; a pick-up is implicit', () => {
    const text = written('A2|D8|D8|D6:|A2|D8|D8|]');
    expect(found(text, '//measure/@number')).toEqual(['0', '1', '2', '3', 'X1', '4', '5']);
    expect(found(text, '//measure[@implicit="yes"]/@number')).toEqual(['0', 'X1']);
  });
  test('repeats, endings with their passes, double and final lines', () => {
    const text = written('|:D8|1,3 E8:|2 F8||D8|[D8|D8|]');
    expect(found(text, '//repeat/@direction')).toEqual(['forward', 'backward']);
    expect(found(text, '//ending/@number')).toEqual(['1, 3', '1, 3', '2', '2']);
    expect(found(text, '//ending/@type')).toEqual(['start', 'stop', 'start', 'stop']);
    expect(found(text, '//barline/bar-style')).toEqual([
      'heavy-light',
      'light-heavy',
      'light-light',
      'light-heavy',
    ]);
    soundReading('|:D8|1,3 E8:|2 F8||D8|D8|D8|]');
  });
  test('a repeat that is played three times says so', () => {
    expect(found(written('|:D8::|E8|]'), '//repeat[@direction="backward"]/@times')).toEqual(['3']);
  });
  test('a line of music ends with a new system', () => {
    expect(found(written('D8|D8|\nE8|E8|]'), '//measure[print/@new-system="yes"]/@number')).toEqual(['3']);
  });
  test('parts have their labels, tempos their note value', () => {
    const text = written('D8|D8||E8|E8|]', 'M:6/8\nL:1/8\nQ:"Lively" 3/8=112\nK:D');
    expect(found(text, '//rehearsal')).toEqual(['A', 'B']);
    expect(found(text, '//words')).toEqual(['Lively']);
    expect(named(text, '//metronome/*')).toEqual(['beat-unit', 'beat-unit-dot', 'per-minute']);
    expect(found(text, '//metronome/*')).toEqual(['quarter', '', '112']);
    expect(found(text, '//sound/@tempo')).toEqual(['168']);
  });
  test('a bar of rest is one', () => {
    expect(found(written('z8|x8|D8|]'), '//rest/@measure')).toEqual(['yes', 'yes']);
    expect(found(written('z8|x8|D8|]'), '//note[@print-object="no"]/duration')).toEqual(['4']);
  });
});

describe('notes', () => {
  test('a length that no value has is tied together', () => {
    const text = written('D5/2 E3/2 F4|]');
    expect(found(text, '//note/type')).toEqual(['quarter', '16th', 'eighth', 'half']);
    expect(found(text, '//tie/@type')).toEqual(['start', 'stop']);
    soundReading('D5/2 E3/2 F4|D5-D3|D7/4E/4 F5 A|]');
  });
  test('ties join what they should over bar lines and in chords, and nothing else', () => {
    const text = written('[DA]8-|[DB]4- D4-|E8|D8-|z8|]');
    expect(found(text, '//note[tie/@type="start"]/pitch/step')).toEqual(['D', 'D']);
    expect(found(text, '//note[tie/@type="stop"]/pitch/step')).toEqual(['D', 'D']);
  });
  test('slurs: nested, one after the other on a note, unclosed', () => {
    const starts = (body: string): readonly string[] => found(written(body), '//slur/@*');
    expect(starts('(D(EF)G) A4|]')).toEqual(['start', '1', 'start', '2', 'stop', '2', 'stop', '1']);
    expect(starts('(D(E)F) A4 z|]')).toEqual(['start', '1', 'stop', '1', 'start', '2', 'stop', '2']);
    expect(starts('(DEFG A4|]')).toEqual([]);
  });
  test('grace notes come before their note and take no time', () => {
    const text = written('{/g}D4 {efg}D4|]');
    expect(found(text, '//note[grace]/type')).toEqual(['eighth', '16th', '16th', '16th']);
    expect(found(text, '//grace/@slash')).toEqual(['yes']);
    expect(found(text, '//note[grace]/beam[@number="2"]')).toEqual(['begin', 'continue', 'end']);
    expect(found(text, '//note[grace]/duration')).toEqual([]);
  });
  test('ornaments, bows, fingers, marks', () => {
    const text = written('~D2 TE2 !turn!F2 PG2|MA2 !slide!B2 .c2 Ld2|ue2 v!3!f2 Hg2 !tenuto!a2|]');
    expect(named(text, '//ornaments/*')).toEqual([
      'turn',
      'trill-mark',
      'turn',
      'inverted-mordent',
      'mordent',
    ]);
    expect(named(text, '//articulations/*')).toEqual(['scoop', 'staccato', 'accent', 'tenuto']);
    expect(named(text, '//technical/*')).toEqual(['up-bow', 'down-bow', 'fingering']);
    expect(found(text, '//fingering')).toEqual(['3']);
    expect(named(text, '//fermata')).toEqual(['fermata']);
  });
  test('each finger of a double stop stands at its note', () => {
    const [first, ...rest] = scoreOf('[DA]8|]').parts[0]?.bars[0]?.events ?? [];
    const score = scoreOf('[DA]8|]');
    const part = score.parts[0];
    const bar = part?.bars[0];
    if (first?.kind !== 'note' || part === undefined || bar === undefined) throw new Error('no note');
    const fingered = { ...bar, events: [{ ...first, fingers: [0, 3] as const }, ...rest] };
    const text = writeMusicXml(documentOf({ ...score, parts: [{ ...part, bars: [fingered] }] }));
    expect(found(text, '//note[pitch/step="A"]//fingering')).toEqual(['0']);
    expect(found(text, '//note[pitch/step="D"]//fingering')).toEqual(['3']);
  });
  test('a finger says its string where that is known, 1 for the highest', () => {
    const score = scoreOf('!1!E4 !0!A2 B2|]');
    const strings = new Map([
      ['A/0/0', 3],
      ['A/0/1:2', 2],
      ['A/0/3:4', 2],
    ]);
    const document = documentOf(score);
    const text = writeMusicXml({ ...document, parts: document.parts.map((part) => ({ ...part, strings })) });
    expect(named(text, '//technical/*')).toEqual(['fingering', 'string', 'fingering', 'string']);
    expect(found(text, '//string')).toEqual(['3', '2']);
  });
  test('other decorations keep their name, dynamics and signs of the road map are directions', () => {
    const text = written('!arpeggio!D2 !mf!E2 !segno!F2 G2|A8!fine!|]');
    expect(found(text, '//other-technical')).toEqual(['arpeggio']);
    expect(named(text, '//dynamics/*')).toEqual(['mf']);
    expect(named(text, '//segno')).toEqual(['segno']);
  });
  test('triplets: bracket only where no beam shows them', () => {
    const text = written('(3DEF (3D2E2F2 G2|]');
    expect(found(text, '//tuplet/@type')).toEqual(['start', 'stop', 'start', 'stop']);
    expect(found(text, '//tuplet/@bracket')).toEqual(['no', 'yes']);
    expect(found(text, '//time-modification/actual-notes')).toEqual(['3', '3', '3', '3', '3', '3']);
    soundReading('(3DEF (3D2E2F2 G2|(5DEFGA B4 (3:2:2D2E|]');
  });
  test('accidentals where paper needs them', () => {
    const text = written('=F^F F2 =f2 f2|F8|]');
    expect(found(text, '//accidental')).toEqual(['natural', 'sharp', 'natural']);
    soundReading('=F^F _B2 =f2 f2|F8-|=F8-|F4 F4|{=c}d2 c2 ^c4|]');
  });
  test('syllables, with the word going on', () => {
    const text = written('D2E2F2G2|A8|]\nw: fid-dle-stick song * la');
    expect(found(text, '//lyric/syllabic')).toEqual(['begin', 'middle', 'end', 'single']);
    expect(found(text, '//lyric/text')).toEqual(['fid', 'dle', 'stick', 'song']);
  });
});

describe('chords and words over the staff', () => {
  test('a chord symbol has root, kind, bass and the text that is printed', () => {
    const text = written('"F#m7"D4 "G/B"E4|"Bb"D4 "D5"E4|]');
    expect(found(text, '//harmony/root')).toHaveLength(4);
    expect(found(text, '//root-step')).toEqual(['F', 'G', 'B', 'D']);
    expect(found(text, '//root-alter')).toEqual(['1', '-1']);
    expect(found(text, '//kind')).toEqual(['minor-seventh', 'major', 'major', 'power']);
    expect(found(text, '//kind/@text')).toEqual(['m7', '', '', '5']);
    expect(found(text, '//bass-step')).toEqual(['B']);
  });
  test('what comes inside a note or after the last is placed by an offset', () => {
    const score = scoreOf('"D"D8|]');
    const [part] = score.parts;
    const [bar] = part?.bars ?? [];
    const [chord] = bar?.chords ?? [];
    if (part === undefined || bar === undefined || chord === undefined) throw new Error('no chord');
    const chords = [chord, { ...chord, onset: { ...chord.onset, num: 1, den: 2 } }];
    const text = writeMusicXml(documentOf({ ...score, parts: [{ ...part, bars: [{ ...bar, chords }] }] }));
    expect(found(text, '//harmony/offset')).toEqual(['2']);
  });
  test('annotations stand above or below', () => {
    const text = written('"^hook"D4 "_low"E4|]');
    expect(found(text, '//words')).toEqual(['hook', 'low']);
    expect(found(text, '//direction[direction-type/words]/@placement')).toEqual(['above', 'below']);
  });
});

describe('the document', () => {
  const full = scoreOf('D2E2F2G2|A8|]');
  const bones = scoreOf('D4F4|A8|]');
  const parts = [
    { id: 'bones', name: 'The bones', score: bones },
    { id: 'full', name: 'Full version', score: full },
  ];
  test('versions are parts in one bracket, headings over the first alone', () => {
    const text = writeMusicXml(
      documentOf(full, { parts: parts.map((p) => ({ ...p, score: { ...p.score } })) }),
    );
    expect(found(text, '//score-part/@id')).toEqual(['bones', 'full']);
    expect(found(text, '//part-name')).toEqual(['The bones', 'Full version']);
    expect(found(text, '//part-group/@type')).toEqual(['start', 'stop']);
    const read = readMusicXml(text);
    expect(musicXmlProblems(bones, read.get('bones') ?? [])).toEqual([]);
    expect(musicXmlProblems(full, read.get('full') ?? [])).toEqual([]);
  });
  test('who, what, when; markup stays text', () => {
    const text = writeMusicXml(
      documentOf(full, {
        title: 'Rosin & <b>Bow</b>\u0007',
        composer: 'Trad.',
        rights: 'CC BY 4.0',
        source: 'As sung & played',
        date: '2026-11-25',
      }),
    );
    expect(found(text, '//work-title')).toEqual(['Rosin & <b>Bow</b>']);
    expect(found(text, '//creator[@type="composer"]')).toEqual(['Trad.']);
    expect(found(text, '//rights | //source | //encoding-date')).toEqual([
      'CC BY 4.0',
      '2026-11-25',
      'As sung & played',
    ]);
  });
  test('same document, same text', () => {
    expect(writeMusicXml(documentOf(full, { parts }))).toBe(writeMusicXml(documentOf(full, { parts })));
  });
  test.each([
    ['parts of different length', { parts: [...parts, { id: 'x', name: 'x', score: scoreOf('D8|]') }] }],
    ['no parts', { parts: [] }],
    ['one id twice', { parts: [...parts, ...parts] }],
    ['an id that is no name', { parts: [{ id: '1 x', name: 'x', score: full }] }],
    ['a date that is none', { date: 'today' }],
  ])('refuses %s', (_, more) => expect(() => writeMusicXml(documentOf(full, more))).toThrow(RangeError));
  test('lengths without a sensible common part are decimals, and a note out of every octave is moved', () => {
    const [part] = full.parts;
    const [bar] = part?.bars ?? [];
    if (part === undefined || bar === undefined) throw new Error('no bar');
    const primes = [7, 11, 13, 17, 19, 23];
    const events = primes.map((n) => plainNote(pitch('C12'), wholeNotes(1, n)));
    const text = writeMusicXml(documentOf({ ...full, parts: [{ ...part, bars: [{ ...bar, events }] }] }));
    expect(new Set(found(text, '//octave'))).toEqual(new Set(['9']));
    const total = found(text, '//duration').reduce((sum, d) => sum + Number(d), 0);
    const crotchets = primes.reduce((sum, n) => sum + 4 / n, 0);
    expect(total / Number(found(text, '//divisions')[0])).toBeCloseTo(crotchets, 8);
  });
});

describe('the reading that the laws rest on finds what is wrong', () => {
  const body = '|:{g}=F3 F- F2 (3FED|1 (D3/2E/2) D6:|2 D5/2 E/2 D5|]';
  const score = scoreOf(body);
  const text = writeMusicXml(documentOf(score));
  const problemsIn = (changed: string): readonly string[] =>
    musicXmlProblems(score, [...readMusicXml(changed).values()][0] ?? []);
  test('nothing in what was written', () => expect(problemsIn(text)).toEqual([]));
  test.each([
    ['a duration', /<duration>\d+</, '<duration>1<'],
    ['a pitch', '<step>E', '<step>G'],
    ['a tie', '<tie type="stop"/>', ''],
    ['a beam', /<beam number="1">end/, '<beam number="1">continue'],
    ['a bracket', '<tuplet type="stop"', '<tuplet type="start"'],
    ['a slur', '<slur type="stop"', '<slur type="start"'],
    ['an ending', 'type="stop"/>\n        <repeat', 'type="start"/>\n        <repeat'],
    ['a repeat', '<repeat direction="forward"/>', ''],
    ['an accidental', '<accidental>natural</accidental>', ''],
    ['a dot', '<dot/>', ''],
    ['a number', '<measure number="2">', '<measure number="1">'],
  ])('%s', (_, what, instead) => {
    const changed = text.replace(what, instead);
    expect(changed).not.toBe(text);
    expect(problemsIn(changed)).not.toEqual([]);
  });
});
