import { describe, expect, test } from 'vitest';
import { formatRational, sum } from '../core/index.ts';
import { formatPitch } from '../music/index.ts';
import { readAbc } from '../notation/index.ts';
import { addressKey, type Score } from '../score/index.ts';
import { type OrnamentInHand, ornamentsInHand } from './ornamentsInHand.ts';

/** A reel in G that begins with these bars. */
const reel = (body: string): Score => {
  const [tune] = readAbc(`X:1\nR:reel\nM:4/4\nL:1/8\nK:G\n${body}|]\n`).tunes;
  if (tune === undefined) throw new Error(`no tune in ${body}`);
  return tune.score;
};

/** "A/0/0–1/4 longRoll G4@D3 A4>4.cut F#4>3.strike down": range, kind, notes, flicks with what moves, strokes. */
const told = ({ ornament, notes, flicks, beside, strokes }: OrnamentInHand): string => {
  const until = formatRational(sum([ornament.address.onset, ornament.length]));
  return [
    `${addressKey(ornament.address)}–${until.replace('/', ':')} ${ornament.kind}`,
    ...notes.map((n) => `${formatPitch(n.pitch)}@${n.string}${n.finger}`),
    ...(beside === null ? [] : [`with ${formatPitch(beside.pitch)}@${beside.string}${beside.finger}`]),
    ...flicks.map((f) => `${f.role} ${formatPitch(f.pitch)}@${f.string}${f.finger} moves ${f.moves}`),
    strokes.length === 0 ? 'no stroke' : strokes.join(' '),
  ].join(', ');
};

const all = (body: string): readonly string[] => ornamentsInHand(reel(body)).map(told);

// Common practice: which finger makes which ornament, as fiddle teachers say it.
describe('how each ornament is made', () => {
  test.each<readonly [string, string, string]>([
    ['a cut', 'G2{A}G2 z4', 'A/0/1:4–1:2 cut, G4@D3, cut A4@D4 moves 4, up'],
    ['a cut on an open string', '{c}A4 z4', 'A/0/0–1:2 cut, A4@A0, cut C5@A2 moves 2, down'],
    ['a cut inside a slur', '(B2{c}B2) z4', 'A/0/1:4–1:2 cut, B4@A1, cut C5@A2 moves 2, no stroke'],
    ['a strike', '{A}B4 z4', 'A/0/0–1:2 strike, B4@A1, strike A4@A0 moves 1, down'],
    ['two cuts', '{cB}A4 z4', 'A/0/0–1:2 doubleGrace, A4@A0, cut C5@A2 moves 2, cut B4@A1 moves 1, down'],
    [
      'two grace notes from below',
      '{AB}c4 z4',
      'A/0/0–1:2 doubleGrace, C5@A2, leadIn A4@A0 moves 0, leadIn B4@A1 moves 1, down',
    ],
    [
      'three grace notes',
      '{BAB}c4 z4',
      'A/0/0–1:2 graceRun, C5@A2, leadIn B4@A1 moves 1, leadIn A4@A0 moves 0, leadIn B4@A1 moves 1, down',
    ],
    ['a long roll', '~B3c z4', 'A/0/0–3:8 longRoll, B4@A1, cut C5@A2 moves 2, strike A4@A0 moves 1, down'],
    [
      'a short roll',
      '~G2B2 z4',
      'A/0/0–1:4 shortRoll, G4@D3, cut A4@D4 moves 4, strike F#4@D2 moves 3, down',
    ],
    ['the sign of a roll on a quaver', '~BA z2 z4', 'A/0/0–1:8 cut, B4@A1, cut C5@A2 moves 2, down'],
    [
      'a roll on an open string, which has no strike',
      '~A3c z4',
      'A/0/0–3:8 longRoll, A4@A0, cut C5@A2 moves 2, down',
    ],
    [
      'a long roll written out',
      '(B{c}B{A}B) z z4',
      'A/0/0–3:8 longRoll, B4@A1, B4@A1, B4@A1, cut C5@A2 moves 2, strike A4@A0 moves 1, down',
    ],
    [
      'a short roll written out',
      '({c}B{A}B) z2 z4',
      'A/0/0–1:4 shortRoll, B4@A1, B4@A1, cut C5@A2 moves 2, strike A4@A0 moves 1, down',
    ],
    ['a treble', '(3BBB d2 z4', 'A/0/0–1:4 treble, B4@A1, B4@A1, B4@A1, down up down'],
    ['a treble that starts up', 'd2 (3BBB z4', 'A/0/1:4–1:2 treble, B4@A1, B4@A1, B4@A1, up down up'],
    ['a treble in semiquavers', 'B/B/c d2 z4', 'A/0/0–1:4 treble, B4@A1, B4@A1, C5@A2, down up down'],
    ['a run', '((3Bcd) e2 z4', 'A/0/0–1:4 runTriplet, B4@A1, C5@A2, D5@A3, down'],
    ['a turn', '(3BcB A2 z4', 'A/0/0–1:4 turnTriplet, B4@A1, C5@A2, B4@A1, down up down'],
    ['a broken chord', '(3GBd g2 z4', 'A/0/0–1:4 arpeggioTriplet, G4@D3, B4@A1, D5@A3, down up down'],
    ['a slide', '!slide!B4 z4', 'A/0/0–1:2 slide, B4@A1, down'],
  ])('%s', (_, body, expected) => expect(all(body)[0]).toBe(expected));

  test.each<readonly [string, string, string]>([
    ['a drone below', '[DB]4 z4', 'drone, B4@A1, with D4@D0, down'],
    ['a drone above', '[GA]4 z4', 'drone, G4@D3, with A4@A0, down'],
    ['a finger laid across', '[EB]4 z4', 'laidFinger, B4@A1, with E4@D1, down'],
    ['a unison', '[AA]4 z4', 'unison, A4@D4, with A4@A0, down'],
    ['a double stop', '[Ec]4 z4', 'doubleStop, C5@A2, with E4@D1, down'],
  ])('%s', (_, body, expected) => {
    const [first = ''] = all(body);
    expect(first.split(' ').slice(1).join(' ')).toBe(expected);
  });

  test('what is fingered and bowed already is not worked out again', () => {
    const score = reel('{A}G4 z4');
    const [cut] = ornamentsInHand(score, { fingering: [], bowing: [] });
    expect(cut?.notes[0]).toMatchObject({ string: null, finger: null, bow: 'down', begins: true });
  });
  test('a tune without ornaments has none', () => expect(all('GABc dedB')).toEqual([]));
});
