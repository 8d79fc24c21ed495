import { describe, expect, test } from 'vitest';
import { formatRational, parseWholeNotes, wholeNotes } from '../core/index.ts';
import { formatPitch, keyOf, metre, type Pitch, pitch, pitchClass } from '../music/index.ts';
import {
  assembleParts,
  type Event,
  type Finger,
  type Note,
  type OrnamentSign,
  plainNote,
  type Score,
} from '../score/index.ts';
import { ornamentsOf } from './ornaments.ts';

const G = keyOf(pitchClass('G'), 'major');

/** A reel of one bar. */
const reelOf = (events: readonly Event[]): Score => ({
  number: 1,
  fields: [{ code: 'R', value: 'reel' }],
  metre: metre(4, 4),
  key: G,
  unit: wholeNotes(1, 8),
  tempo: null,
  partOrder: null,
  parts: assembleParts([
    {
      events,
      key: G,
      metre: metre(4, 4),
      repeatStart: 0,
      repeatEnd: 0,
      line: 'final',
      ending: null,
      chords: [],
      annotations: [],
      fields: [],
      tempo: null,
      lineEnd: true,
      partLabel: null,
    },
  ]).parts,
});

interface Extra {
  readonly graces?: readonly string[];
  readonly sign?: OrnamentSign;
  readonly beside?: readonly string[];
  readonly triplet?: number;
  readonly finger?: Finger;
}

const note = (name: string, length = '1/8', extra: Extra = {}): Note => {
  const base = plainNote(pitch(name), parseWholeNotes(length));
  const graces = extra.graces?.map(pitch) as [Pitch, ...Pitch[]] | undefined;
  return {
    ...base,
    pitches: [pitch(name), ...(extra.beside ?? []).map(pitch)],
    graces: graces === undefined ? null : { pitches: graces, slashed: false },
    signs: extra.sign === undefined ? [] : [extra.sign],
    fingers: extra.finger === undefined ? [] : [extra.finger],
    tuplet: extra.triplet === undefined ? null : { actual: 3, normal: 2, index: extra.triplet, count: 3 },
  };
};
const triplet = (...names: readonly string[]): readonly Note[] =>
  names.map((name, i) => note(name, '1/12', { triplet: i }));

const namesIn = (events: readonly Event[]): readonly string[] =>
  ornamentsOf(reelOf(events)).map(
    (o) =>
      `${o.kind}@${formatRational(o.address.onset)}` +
      (o.events > 1 ? ` over ${o.events}` : '') +
      (o.movesOn ? ' moving on' : '') +
      (o.string === null ? '' : ` ${o.string}`),
  );

describe('one sign or group', () => {
  test.each<readonly [string, readonly Event[], readonly string[]]>([
    ['nothing', [note('G4'), note('A4')], []],
    ['a grace note above', [note('G4'), note('G4', '1/8', { graces: ['A4'] })], ['cut@1/8']],
    ['a grace note below', [note('G4', '1/4', { graces: ['F#4'] })], ['strike@0']],
    ['two grace notes', [note('G4', '1/4', { graces: ['A4', 'F#4'] })], ['doubleGrace@0']],
    ['three grace notes', [note('G4', '1/4', { graces: ['G4', 'A4', 'G4'] })], ['graceRun@0']],
    ['a roll on a dotted crotchet', [note('G4', '3/8', { sign: 'roll' })], ['longRoll@0']],
    ['a roll on a crotchet', [note('G4', '1/4', { sign: 'roll' })], ['shortRoll@0']],
    ['a slide', [note('B4', '1/4', { sign: 'slide' })], ['slide@0']],
    [
      'a roll written out',
      [
        note('G4'),
        note('G4', '1/8', { graces: ['A4'] }),
        note('G4', '1/8', { graces: ['F#4'] }),
        note('B4', '1/8', { graces: ['C5'] }),
      ],
      ['longRoll@0 over 3', 'cut@3/8'],
    ],
    [
      'a short roll written out',
      [
        note('G4', '1/8', { graces: ['A4'] }),
        note('G4', '1/8', { graces: ['F#4'] }),
        note('B4', '1/8', { graces: ['A4'] }),
      ],
      ['shortRoll@0 over 2', 'strike@1/4'],
    ],
    [
      'a cut and a strike on two pitches',
      [note('G4', '1/8', { graces: ['A4'] }), note('A4', '1/8', { graces: ['G4'] })],
      ['cut@0', 'strike@1/8'],
    ],
    ['the sign of a roll on a quaver', [note('G4', '1/8', { sign: 'roll' })], ['cut@0']],
    ['a roll on a minim', [note('G4', '1/2', { sign: 'roll' })], ['longRoll@0']],
    ['a triplet on one note', triplet('A4', 'A4', 'A4'), ['treble@0 over 3']],
    ['a triplet on one note that leaves it', triplet('A4', 'A4', 'B4'), ['treble@0 over 3 moving on']],
    [
      'short, short, long on one note',
      [note('D4'), note('A4', '1/16'), note('A4', '1/16'), note('A4')],
      ['treble@1/8 over 3'],
    ],
    [
      'short, short, long that moves on',
      [note('A4', '1/16'), note('A4', '1/16'), note('B4')],
      ['treble@0 over 3 moving on'],
    ],
    ['short, short, long that runs', [note('A4', '1/16'), note('B4', '1/16'), note('C5')], []],
    ['a run down', triplet('D5', 'C5', 'B4'), ['runTriplet@0 over 3']],
    ['a turn below', triplet('B4', 'A4', 'B4'), ['turnTriplet@0 over 3']],
    ['a turn that moves on', triplet('B4', 'C5', 'A4'), ['turnTriplet@0 over 3']],
    ['a trill', [note('B4', '1/4', { sign: 'trill' })], ['trill@0']],
    ['the sign of a turn', [note('B4', '1/4', { sign: 'turn' })], ['turn@0']],
    ['an upper mordent', [note('B4', '1/4', { sign: 'upperMordent' })], ['upperMordent@0']],
    ['a lower mordent', [note('B4', '1/4', { sign: 'lowerMordent' })], ['lowerMordent@0']],
    ['four semiquavers', ['A4', 'A4', 'A4', 'A4'].map((n) => note(n, '1/16')), []],
    ['a run', triplet('B4', 'C5', 'D5'), ['runTriplet@0 over 3']],
    ['a turn', triplet('B4', 'C5', 'B4'), ['turnTriplet@0 over 3']],
    ['a broken chord', triplet('G4', 'B4', 'D5'), ['arpeggioTriplet@0 over 3']],
    [
      'a triplet of crotchets',
      triplet('G4', 'A4', 'B4').map((n) => ({ ...n, length: wholeNotes(1, 6) })),
      [],
    ],
    ['a note over an open string', [note('B4', '1/4', { beside: ['D4'] })], ['drone@0 D']],
    ['an open string written first', [note('D4', '1/4', { beside: ['D5'] })], ['drone@0 D']],
    ['two open strings', [note('D4', '1/4', { beside: ['A4'] })], ['drone@0 A']],
    ['a finger laid over two strings', [note('B4', '1/4', { beside: ['E4'] })], ['laidFinger@0']],
    ['one pitch twice', [note('A4', '1/4', { beside: ['A4'] })], ['unison@0']],
    ['two fingers', [note('C5', '1/4', { beside: ['E4'] })], ['doubleStop@0']],
    ['a fourth finger under the next string', [note('D5', '1/4', { beside: ['A4'] })], ['doubleStop@0']],
    ['an open string far below a high note', [note('A5', '1/4', { beside: ['A4'] })], ['drone@0 A']],
  ])('%s', (_, events, names) => expect(namesIn(events)).toEqual(names));

  test('several on one note come graces first', () => {
    const events = [note('B4', '3/8', { graces: ['C5'], sign: 'slide', beside: ['D4'] })];
    expect(namesIn(events)).toEqual(['cut@0', 'slide@0', 'drone@0 D']);
  });
  test('what sounds beside is told with its address', () => {
    const [drone] = ornamentsOf(reelOf([note('B4', '1/4', { beside: ['D4'] })]));
    expect(drone?.address).toEqual({ part: 'A', bar: 0, onset: wholeNotes(0), tone: 1 });
    expect(drone?.others.map(formatPitch)).toEqual(['D4']);
    expect(drone && formatPitch(drone.pitch)).toBe('B4');
  });
  test('a bar of a dotted hornpipe still has quavers for running notes', () => {
    const dotted = [note('G4', '3/16'), note('A4', '1/16'), note('B4', '3/16'), note('A4', '1/16')];
    const score = reelOf([...dotted, note('G4', '1/4', { sign: 'roll' })]);
    const hornpipe = { ...score, fields: [{ code: 'R', value: 'hornpipe' }] };
    expect(ornamentsOf(hornpipe).map((o) => o.kind)).toEqual(['shortRoll']);
  });
});

// Common practice: the hard facts of the left hand hold for what is written, too.
describe('what can not be played as written is named all the same, and said', () => {
  test.each<readonly [string, Note, readonly string[]]>([
    ['a strike on the open A', note('A4', '1/4', { graces: ['G4'] }), ['below-open-string']],
    ['a strike on A with the fourth finger', note('A4', '1/4', { graces: ['G4'], finger: 4 }), []],
    ['a strike on G', note('G4', '1/4', { graces: ['F#4'] }), []],
    ['a cut on the open A', note('A4', '1/4', { graces: ['C5'] }), []],
    ['a roll on the open D', note('D4', '3/8', { sign: 'roll' }), ['below-open-string']],
    ['the sign of a roll on a quaver', note('G4', '1/8', { sign: 'roll' }), ['roll-too-short']],
    ['the same on an open string', note('A4', '1/8', { sign: 'roll' }), ['roll-too-short']],
    ['a roll on A with the fourth finger', note('A4', '1/4', { sign: 'roll', finger: 4 }), []],
    ['a cut above the fourth finger', note('B5', '1/4', { graces: ['C6'] }), []],
    ['two grace notes up to an open string', note('A4', '1/4', { graces: ['F#4', 'G4'] }), []],
    ['two notes that only the G string has', note('B3', '1/4', { beside: ['A3'] }), ['chord-on-one-string']],
    ['an octave over the open G', note('G4', '1/4', { beside: ['G3'] }), []],
    ['a unison of open A and fourth finger', note('A4', '1/4', { beside: ['A4'] }), []],
    ['E with the fourth finger over the open D', note('E5', '1/4', { beside: ['D4'] }), []],
    ['a twelfth and more under one hand', note('F#5', '1/4', { beside: ['B3'] }), ['chord-on-one-string']],
    ['three at once', note('B4', '1/4', { beside: ['D4', 'G4'] }), ['chord-of-three']],
  ])('%s', (_, written, codes) => {
    const problems = ornamentsOf(reelOf([written])).flatMap((o) => o.problems);
    expect(problems.map((p) => p.code)).toEqual(codes);
    for (const p of problems) expect(p.hint).toBeDefined();
  });
  test('the sign of a roll without time for it is a remark, no fault', () => {
    const [cut] = ornamentsOf(reelOf([note('G4', '1/8', { sign: 'roll' })]));
    expect(cut?.problems[0]?.severity).toBe('remark');
    expect(cut?.others.map(formatPitch)).toEqual(['A4']);
  });
  test('nothing lies below the lowest string, so no finger is advised there', () => {
    const [roll] = ornamentsOf(reelOf([note('G3', '3/8', { sign: 'roll' })]));
    expect(roll?.problems[0]?.hint).toBe('Play a treble or two cuts there.');
  });
});
