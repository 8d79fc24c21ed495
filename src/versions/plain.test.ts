import { describe, expect, test } from 'vitest';
import { formatRational } from '../core/index.ts';
import { formatPitch } from '../music/index.ts';
import { readOne } from '../notation/testing/readOne.ts';
import { type Bar, barsOf, isFull } from '../score/index.ts';
import { type PlainSwitches, plainOf } from './index.ts';

const REEL = 'R:reel\nM:4/4\nL:1/8\nK:G';
const JIG = 'R:jig\nM:6/8\nL:1/8\nK:G';

/** The first bar's melody as "G4:3/8 B4:1/8". */
const melody = (bar: Bar | undefined): string =>
  (bar?.events ?? [])
    .map((e) => (e.kind === 'rest' ? 'z' : `${formatPitch(e.pitches[0])}:${formatRational(e.length)}`))
    .join(' ');

const plainBar = (music: string, header = REEL, switches: Partial<PlainSwitches> = {}): Bar => {
  const [first] = barsOf(plainOf(readOne(music, header).score, switches));
  if (first === undefined) throw new Error('no bar');
  return first.bar;
};

// Common practice: how a full version becomes one with all the notes and no ornaments.
describe('from the full version to all the notes', () => {
  test.each<[string, string, string, Partial<PlainSwitches>, string?]>([
    ['grace notes go', '{a}G2{cd}BAGFED|', 'G4:1/4 B4:1/8 A4:1/8 G4:1/8 F#4:1/8 E4:1/8 D4:1/8', {}],
    ['a roll becomes its held note', '~G3BAGFE|', 'G4:3/8 B4:1/8 A4:1/8 G4:1/8 F#4:1/8 E4:1/8', {}],
    [
      'or crotchet and quaver',
      '~G3BAGFE|',
      'G4:1/4 G4:1/8 B4:1/8 A4:1/8 G4:1/8 F#4:1/8 E4:1/8',
      { longRoll: 'crotchetAndQuaver' },
    ],
    [
      'a short roll written out becomes its crotchet',
      '{c}B{A}Bd2BAGF|',
      'B4:1/4 D5:1/4 B4:1/8 A4:1/8 G4:1/8 F#4:1/8',
      { longRoll: 'crotchetAndQuaver' },
    ],
    ['a treble becomes its crotchet', '(3BBBd2BAGF|', 'B4:1/4 D5:1/4 B4:1/8 A4:1/8 G4:1/8 F#4:1/8', {}],
    [
      'one whose last note moves on becomes two quavers',
      '(3BBAd2BAGF|',
      'B4:1/8 A4:1/8 D5:1/4 B4:1/8 A4:1/8 G4:1/8 F#4:1/8',
      {},
    ],
    [
      'a run-triplet becomes its first and last note',
      '(3Bcdg2BAGF|',
      'B4:1/8 D5:1/8 G5:1/4 B4:1/8 A4:1/8 G4:1/8 F#4:1/8',
      {},
    ],
    [
      'or stays',
      '(3Bcdg2BAGF|',
      'B4:1/12 C5:1/12 D5:1/12 G5:1/4 B4:1/8 A4:1/8 G4:1/8 F#4:1/8',
      { runTriplet: 'stays' },
    ],
    ['drones and double stops go', '[Dd]4[GB]4|', 'D5:1/2 B4:1/2', {}],
    [
      'two equal quavers with a cut between them stay two',
      'G{a}GBdg4|',
      'G4:1/8 G4:1/8 B4:1/8 D5:1/8 G5:1/2',
      {},
    ],
    [
      'slurred equal notes may be joined instead',
      '(G{a}G)Bdg4|',
      'G4:1/4 B4:1/8 D5:1/8 G5:1/2',
      { cutBetweenSlurred: 'joined' },
    ],
    ['a jig roll is the dotted crotchet', '~B3 dBG|', 'B4:3/8 D5:1/8 B4:1/8 G4:1/8', {}, JIG],
  ])('%s', (_, music, expected, switches, header = REEL) => {
    const bar = plainBar(music, header, switches);
    expect(melody(bar)).toBe(expected);
    expect(isFull(bar)).toBe(true);
  });

  test('no ornament is left, and nothing is on top of the melody', () => {
    for (const event of plainBar('~G3{a}B[Dd]2!slide!g2|').events) {
      if (event.kind === 'rest') continue;
      expect(event.graces).toBeNull();
      expect(event.signs).toEqual([]);
      expect(event.pitches).toHaveLength(1);
    }
  });
  test('the main ornaments stay where a teacher wants them', () => {
    const [roll, , , quaver] = plainBar('~G3{a}BA2{c}BA|', REEL, { ornaments: 'main' }).events;
    expect(roll?.kind === 'note' && roll.signs).toEqual(['roll']);
    expect(quaver?.kind === 'note' && quaver.graces).toBeNull();
  });
  test("the teacher's slurs and bows stay; a slur between two equal notes is broken", () => {
    const [first, second, third, fourth] = plainBar('v(GB)(d{e}d)g4|').events;
    expect(first?.kind === 'note' && [first.bow, first.slurs.opens]).toEqual(['down', 1]);
    expect(second?.kind === 'note' && second.slurs.closes).toBe(1);
    expect(third?.kind === 'note' && third.slurs.opens).toBe(0);
    expect(fourth?.kind === 'note' && fourth.slurs.closes).toBe(0);
  });
  test('to do it again changes nothing', () => {
    const once = plainOf(readOne('~G3B[Dd]2(Bd)|(3BBBd2(3Bcdg2|{a}G2(B{c}B)AFED|', REEL).score);
    expect(plainOf(once)).toEqual(once);
  });
  test('nor does it where one treble hides another (regression)', () => {
    const once = plainOf(readOne('B/B/B/B/AB G2G2|', REEL).score);
    expect(plainOf(once)).toEqual(once);
  });
});
