import { describe, expect, test } from 'vitest';
import { formatRational } from '../../core/index.ts';
import { formatPitch } from '../../music/index.ts';
import { readAbc } from '../../notation/index.ts';
import { type OrnamentSite, SITE_KINDS } from './ornamentSite.ts';
import { ornamentSitesOf } from './ornamentSites.ts';

const sitesIn = (body: string, head = 'R:reel\nM:4/4\nK:G'): readonly OrnamentSite[] => {
  const [tune] = readAbc(`X:1\nL:1/8\n${head}\n${body}|]\n`).tunes;
  if (tune === undefined) throw new Error(`no tune in ${body}`);
  return ornamentSitesOf(tune.score);
};

/** The kinds that are possible on the note at an onset. */
const kindsAt = (onset: string, body: string, head?: string): readonly string[] =>
  sitesIn(body, head)
    .filter((s) => formatRational(s.address.onset) === onset)
    .map((s) => s.kind);

const JIG = 'R:jig\nM:6/8\nK:G';

// Common practice: what the hands can do where.
describe('what is possible on one note', () => {
  test.each<[string, string, string, readonly string[], string?]>([
    ['a crotchet under the first finger', '0', 'B2 z6', ['cut', 'shortRoll', 'treble', 'slide', 'drone']],
    ['an open crotchet', '0', 'A2 z6', ['cut', 'doubleGrace', 'treble', 'drone', 'unison']],
    ['the lowest string has none below', '0', 'G,2 z6', ['cut', 'doubleGrace', 'treble']],
    ['above a fourth finger nothing is flicked', '0', 'b2 z6', ['treble', 'drone']],
    ['a third finger', '0', 'd2 z6', ['cut', 'shortRoll', 'treble', 'slide', 'drone']],
    ['a dotted crotchet has a long roll and no treble', '0', 'B3 z5', ['cut', 'longRoll', 'slide', 'drone']],
    ['a running note on the beat', '0', 'Bdgd z4', ['cut', 'runTriplet']],
    ['a running note off the beat', '1/8', 'Bdgd z4', []],
    ['the second of two of one pitch', '1/8', 'BBgd z4', ['cut']],
    ['a quaver in the middle of a minim beat', '1/4', 'Bdge z4', ['cut', 'runTriplet']],
    ['note–x–note on a beat', '0', 'BABd z4', ['cut', 'longRoll']],
    ['three of one pitch on a beat', '0', 'BBBd z4', ['cut', 'longRoll']],
    ['note–x–note off the beat', '1/4', 'dgBA Bd z2', ['cut']],
    ['note–x–note on an open string', '0', 'ABAd z4', ['cut']],
    ['note–x–note under a slur', '0', '(BA)Bd z4', ['cut']],
    ['a third under a slur', '0', '(Bd)gd z4', ['cut']],
    ['a third down', '0', 'dBgd z4', ['cut', 'runTriplet']],
    ['a fourth', '0', 'Begd z4', ['cut']],
    ['a crotchet inside a slur', '1/4', '(B2d2) z4', ['cut', 'shortRoll', 'slide', 'drone']],
    ['a crotchet tied on', '0', 'B2-B2 z4', ['cut', 'slide', 'drone']],
    ['the second of tied notes', '1/4', 'B2-B2 z4', []],
    ['a note that has a cut', '0', '{c}B2 z6', []],
    ['a note that has a roll', '0', '~B2 z6', []],
    ['two notes at once', '0', '[DB]2 z6', []],
    ['semiquavers, shorter than half a running note', '0', 'B/4B/4B/4B/4 z7', []],
    ['a low first finger has no room to slide', '0', '_B2 z6', ['cut', 'shortRoll', 'treble', 'drone']],
    ['a jig beat', '3/8', 'G3 BAB', ['cut', 'longRoll'], JIG],
    ['the middle of a jig beat', '1/8', 'GBd z3', [], JIG],
  ])('%s', (_, onset, body, kinds, head) => expect(kindsAt(onset, body, head)).toEqual(kinds));
});

const onlyOne = (kind: string, body: string): OrnamentSite => {
  const [site, ...more] = sitesIn(body).filter((s) => s.kind === kind);
  if (site === undefined || more.length > 0) throw new Error(`${more.length + 1} of ${kind} in ${body}`);
  return site;
};

describe('how it would be made', () => {
  test.each<readonly [string, string, readonly string[], readonly number[], readonly string[], string]>([
    ['cut', 'B4 z4', ['C5'], [2], ['down'], 'A1'],
    ['cut', 'A4 z4', ['C5'], [2], ['down'], 'A0'],
    ['doubleGrace', 'A4 z4', ['C5', 'B4'], [2, 1], ['down'], 'A0'],
    ['shortRoll', 'B2 z6', ['C5', 'A4'], [2, 1], ['down'], 'A1'],
    ['longRoll', 'BABd z4', ['C5', 'A4'], [2, 1], ['down'], 'A1'],
    ['treble', 'B2 z6', [], [], ['down', 'up', 'down'], 'A1'],
    ['treble', 'z2 E2 z4', [], [], ['down', 'up', 'down'], 'D1'],
    ['runTriplet', 'Bd z6', ['C5'], [], ['down', 'up'], 'A1'],
    ['runTriplet', 'z4 dB z2', ['C5'], [], ['down', 'up'], 'A3'],
    ['slide', 'd4 z4', [], [], ['down'], 'A3'],
    ['drone', 'd4 z4', ['D4'], [], ['down'], 'A3'],
    ['unison', 'A4 z4', ['A4'], [], ['down'], 'D4'],
  ])('%s in %s', (kind, body, others, flicks, strokes, held) => {
    const site = onlyOne(kind, body);
    expect(site.others.map(formatPitch)).toEqual(others);
    expect(site.flicks).toEqual(flicks);
    expect(site.strokes).toEqual(strokes);
    expect(`${site.string}${site.finger}`).toBe(held);
  });
  test('a note under the fourth finger is cut as the open string that it could be', () => {
    const cuts = sitesIn('d!4!e d!4!e d2 z2').filter((s) => s.kind === 'cut');
    expect(cuts.map((s) => [formatPitch(s.pitch), s.string, s.finger, s.refingered])).toEqual([
      ['D5', 'A', 3, false],
      ['D5', 'A', 3, false],
      ['D5', 'A', 3, false],
    ]);
    const [onFourth] = sitesIn('!4!e2 z6').filter((s) => s.kind === 'cut');
    expect(onFourth).toMatchObject({ string: 'E', finger: 0, flicks: [2], refingered: true });
  });
  test('every kind has a place', () => {
    const kinds = new Set(sitesIn('A2B2 d3A|BABd Bd z2').map((s) => s.kind));
    expect([...kinds].toSorted()).toEqual([...SITE_KINDS].toSorted());
  });
  test('what takes several notes says so', () => {
    expect(onlyOne('longRoll', 'BABd z4')).toMatchObject({ events: 3, length: { num: 3, den: 8 } });
    expect(onlyOne('runTriplet', 'Bd z6')).toMatchObject({ events: 2, length: { num: 1, den: 4 } });
  });
  test.each([
    ['0', 'bar', 1],
    ['1/4', 'offBeat', 1],
    ['1/2', 'beat', 2],
    ['3/4', 'offBeat', 2],
  ])('at %s of a reel the accent is %s', (onset, accent, beat) => {
    const site = sitesIn('B2B2 B2B2').find((s) => formatRational(s.address.onset) === onset);
    expect(site).toMatchObject({ accent, beat });
  });
  test('a pick-up is counted from the end of its bar', () => {
    const [pickup] = sitesIn('B2|B2B2 B2B2|B2B2 B2').filter((s) => s.kind === 'cut');
    expect(pickup).toMatchObject({ accent: 'offBeat', beat: 2 });
  });
});
