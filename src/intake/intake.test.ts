import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { strToU8, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { add, formatRational, type Rational, ZERO } from '../core/index.ts';
import { formatChord, formatPitch } from '../music/index.ts';
import { readAbc, readMusicXml, writeMusicXml, xml } from '../notation/index.ts';
import { paperScores } from '../notation/testing/paperScores.ts';
import { scoreArbitrary } from '../notation/testing/scoreArbitrary.ts';
import { barsOf, type Score } from '../score/index.ts';
import { readTuneFile } from './index.ts';
import { parseXml } from './parseXml.ts';

const folder = mkdtempSync(join(tmpdir(), 'intake-'));
const fileOf = (name: string, content: string | Uint8Array): string => {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
};

const xmlOf = (score: Score): string =>
  writeMusicXml({ title: 'A Tune', parts: [{ id: 'full', name: 'Full', score }] });
const readBack = (text: string): Score => {
  const parsed = parseXml(text);
  if (parsed.kind === 'problem') throw new Error(parsed.message);
  const { score } = readMusicXml(parsed.root);
  if (score === null) throw new Error('no tune');
  return score;
};
const scoreOf = (abc: string): Score => {
  const score = readAbc(abc).tunes[0]?.score;
  if (score === undefined) throw new Error('no tune');
  return score;
};

interface Sounding {
  readonly onset: string;
  readonly pitches: string;
  readonly graces: string;
  length: Rational;
}

/** What sounds in a bar, tied pieces of one event put together: the file may have to write one length as two. */
const soundOf = (score: Score) =>
  barsOf(score).map(({ bar }) => {
    const sounds: Sounding[] = [];
    let at: Rational = ZERO;
    let tied = false;
    for (const event of bar.events) {
      const pitches = event.kind === 'note' ? event.pitches.map(formatPitch).toSorted().join(' ') : 'silence';
      const last = sounds.at(-1);
      const goesOn = last !== undefined && last.pitches === pitches && (tied || pitches === 'silence');
      if (goesOn) last.length = add(last.length, event.length);
      else
        sounds.push({
          onset: formatRational(at),
          pitches,
          graces: event.kind === 'note' ? (event.graces?.pitches.map(formatPitch).join(' ') ?? '') : '',
          length: event.length,
        });
      at = add(at, event.length);
      tied = event.kind === 'note' && event.tiedToNext;
    }
    return sounds;
  });

const frameOf = (score: Score) =>
  barsOf(score).map(({ bar }) => ({
    repeatStart: Math.min(1, bar.repeatStart),
    repeatEnd: bar.repeatEnd,
    ending: bar.ending,
    accidentals: bar.key.accidentals,
    metre: bar.metre,
    chords: bar.chords.map((c) => [formatRational(c.onset), formatChord(c.chord)]),
  }));

describe('a tune that went out as MusicXML comes back', () => {
  const RUNS = { seed: 20_271, numRuns: 60 };
  const withNotes = (score: Score): boolean =>
    barsOf(score).some(({ bar }) => bar.events.some((e) => e.kind === 'note'));

  test('with the same sound', () => {
    fc.assert(
      fc.property(fc.oneof(paperScores, scoreArbitrary).filter(withNotes), (score) => {
        expect(soundOf(readBack(xmlOf(score)))).toEqual(soundOf(score));
      }),
      RUNS,
    );
  });

  test('with the same repeats, endings, keys, metres and chords', () => {
    fc.assert(
      fc.property(scoreArbitrary.filter(withNotes), (score) => {
        expect(frameOf(readBack(xmlOf(score)))).toEqual(frameOf(score));
      }),
      RUNS,
    );
  });

  test('the demo lessons too, bows, fingers, slurs and triplets with them', () => {
    for (const name of ['the-lantern-at-hollin-quay', 'seven-thimbles']) {
      const abc = readFileSync(new URL(`../../demo/lessons/${name}/tune.abc`, import.meta.url), 'utf8');
      const score = scoreOf(abc);
      const back = readBack(xmlOf(score));
      const signs = (s: Score) =>
        barsOf(s).flatMap(({ bar }) =>
          bar.events.map((e) =>
            e.kind === 'note' ? [e.signs, e.bow, e.fingers, e.slurs, e.tuplet, e.tiedToNext] : [e.tuplet],
          ),
        );
      expect(signs(back)).toEqual(signs(score));
    }
  });
});

// Written as other programs write: voices with backup, chords, brackets without numbers, offsets. Source: MusicXML 4.0.
const OTHER = `<?xml version="1.0"?>
<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">
<score-partwise version="4.0">
  <movement-title>Two   Voices</movement-title>
  <identification><creator type="composer">Somebody</creator></identification>
  <part-list><score-part id="P1"><part-name>Fiddle</part-name></score-part><score-part id="P2"><part-name>Bass</part-name></score-part></part-list>
  <part id="P1">
    <measure number="0" implicit="yes">
      <attributes><divisions>12</divisions><key><fifths>1</fifths><mode>dorian</mode></key><time symbol="common"><beats>4</beats><beat-type>4</beat-type></time></attributes>
      <direction><direction-type><metronome><beat-unit>half</beat-unit><per-minute>c. 96</per-minute></metronome></direction-type></direction>
      <note><pitch><step>E</step><octave>4</octave></pitch><duration>6</duration><voice>1</voice></note>
    </measure>
    <measure number="1">
      <harmony><root><root-step>A</root-step></root><kind>minor-ninth</kind></harmony>
      <note><grace slash="yes"/><pitch><step>B</step><octave>4</octave></pitch><voice>1</voice></note>
      <note><pitch><step>A</step><octave>4</octave></pitch><duration>12</duration><voice>1</voice><notations><technical><fingering>0</fingering><down-bow/></technical><slur type="start" number="1"/></notations></note>
      <note><chord/><pitch><step>E</step><octave>5</octave></pitch><duration>12</duration><voice>1</voice></note>
      <note><pitch><step>B</step><octave>4</octave></pitch><duration>4</duration><voice>1</voice><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification><notations><slur type="stop" number="1"/></notations></note>
      <note><pitch><step>C</step><alter>1</alter><octave>5</octave></pitch><duration>4</duration><voice>1</voice><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification></note>
      <note><pitch><step>D</step><octave>5</octave></pitch><duration>4</duration><voice>1</voice><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification></note>
      <note><pitch><step>E</step><octave>5</octave></pitch><duration>24</duration><voice>1</voice><notations><ornaments><turn/></ornaments></notations></note>
      <backup><duration>48</duration></backup>
      <note><pitch><step>A</step><octave>3</octave></pitch><duration>48</duration><voice>2</voice></note>
      <barline location="right"><bar-style>light-heavy</bar-style><repeat direction="backward"/></barline>
    </measure>
  </part>
  <part id="P2"><measure number="0"/><measure number="1"><note><pitch><step>A</step><octave>2</octave></pitch><duration>4</duration></note></measure></part>
</score-partwise>`;

describe('files of other programs', () => {
  test('one part, one voice, with what belongs to its notes', async () => {
    const read = await readTuneFile(fileOf('other.musicxml', OTHER));
    if (read.kind === 'problem') throw new Error(read.message);
    expect(read.text).toBe(
      'X:1\nT:Two Voices\nC:Somebody\nM:C\nL:1/8\nQ:1/2=96\nK:Ador\nE | ({/B}"Am7"v!0![eA]2 (3B) ^c d ~e4 :|\n',
    );
    expect(read.imported?.map((d) => d.code)).toEqual(['other-parts', 'other-voices']);
    expect(read.imported?.[0]?.message).toContain('"Bass"');
  });

  test('compressed, and timewise', async () => {
    const container = '<container><rootfiles><rootfile full-path="score/tune.xml"/></rootfiles></container>';
    const archive = zipSync({
      'META-INF/container.xml': strToU8(container),
      'score/tune.xml': strToU8(OTHER),
      'other.xml': strToU8('<nothing/>'),
    });
    const plain = await readTuneFile(fileOf('a.musicxml', OTHER));
    expect(await readTuneFile(fileOf('a.mxl', archive))).toEqual(plain);
    const timewise = `<score-timewise><measure number="1"><part id="P1"><attributes><divisions>1</divisions></attributes><note><pitch><step>A</step><octave>4</octave></pitch><duration>4</duration></note></part></measure></score-timewise>`;
    const read = await readTuneFile(fileOf('b.xml', timewise));
    expect(read.kind === 'text' && read.text).toContain('A8 |');
  });

  test.each([
    ['<html><body>no music</body></html>', /no MusicXML score: its outermost element is "html"/],
    ['<score-partwise><part id="a"><measure/></part></score-partwise>', /no notes/],
    ['<score-partwise>\n<part>', /no well-formed XML: line 2/],
    ['<!DOCTYPE a [<!ENTITY x "boom">]><a>&x;</a>', /no well-formed XML/],
    [`${'<a>'.repeat(5000)}${'</a>'.repeat(5000)}`, /outermost element is "a"|nested too deeply/],
  ])('%.40s is refused in a sentence', async (text, message) => {
    const read = await readTuneFile(fileOf('bad.xml', text));
    expect(read.kind === 'problem' && read.message).toMatch(message);
  });

  test('a damaged, an empty and a swollen archive', async () => {
    const messageOf = async (bytes: Uint8Array): Promise<string> => {
      const read = await readTuneFile(fileOf('bad.mxl', bytes));
      return read.kind === 'problem' ? read.message : read.text;
    };
    expect(await messageOf(new Uint8Array([0x50, 0x4b, 3, 4, 1, 2, 3]))).toMatch(/damaged/);
    expect(await messageOf(zipSync({ 'readme.txt': strToU8('hello') }))).toMatch(/no MusicXML score/);
    expect(await messageOf(zipSync({ 'tune.xml': new Uint8Array(21_000_000) }))).toMatch(/more than 20 MB/);
  });
});

test('no tree of elements makes the reader fail', () => {
  const names = [
    'score-partwise',
    'part',
    'measure',
    'note',
    'pitch',
    'step',
    'octave',
    'duration',
    'chord',
    'grace',
    'backup',
    'attributes',
    'divisions',
    'key',
    'fifths',
    'time',
    'beats',
    'beat-type',
    'barline',
    'ending',
    'time-modification',
    'actual-notes',
    'normal-notes',
    'harmony',
    'root',
    'notations',
    'tuplet',
  ];
  const texts = fc.constantFrom('A', 'H', '4', '-1', '0', '1e9', 'x', '', '3', '2', '0.5');
  const { tree } = fc.letrec((tie) => ({
    tree: fc.oneof(
      { maxDepth: 6, depthSize: 'large' },
      texts,
      fc
        .record({
          name: fc.constantFrom(...names),
          type: fc.constantFrom('start', 'stop', 'backward', 'left'),
          children: fc.array(tie('tree'), { maxLength: 6 }),
        })
        .map(({ name, type, children }) =>
          xml(name, { type, location: type, direction: type, number: type }, children as []),
        ),
    ),
  }));
  let tunes = 0;
  fc.assert(
    fc.property(fc.array(tree, { maxLength: 12 }), (children) => {
      const note = xml('note', {}, [
        xml('pitch', {}, [xml('step', {}, ['A']), xml('octave', {}, ['4'])]),
        xml('duration', {}, ['1']),
      ]);
      const measure = xml('measure', {}, [note, ...(children as [])]);
      const { score } = readMusicXml(xml('score-partwise', {}, [xml('part', {}, [measure])]));
      if (score !== null) tunes += 1;
      expect(score?.parts.length).toBeGreaterThan(0);
    }),
    { seed: 20_272, numRuns: 800 },
  );
  expect(tunes).toBeGreaterThan(0);
});
