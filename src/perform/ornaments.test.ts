import { describe, expect, test } from 'vitest';
import { fiddleInBar, fiddleOf, tuneOf } from './testing/tunes.ts';
import { timelineOf } from './timelineOf.ts';

/** A straight reel with crotchets of 500 ms (60 minims a minute), or as told. */
const barOf = (body: string, beatsPerMinute = 60): readonly string[] =>
  fiddleInBar(
    timelineOf(tuneOf(`${body}|G8|]`), {
      beatsPerMinute,
      swing: 1,
      times: 1,
      countIn: false,
      melody: true,
      backing: null,
    }),
    0,
  );

// Cut and strike 40 ms (from memory: 30–50 ms); graces begin on the note's beat and take their time from it.
describe('ornaments in milliseconds', () => {
  test.each<readonly [string, string, readonly string[]]>([
    ['a cut', 'G2{A}G2 B4', ['0 500 G4 bow', '500 40 A4 cut', '540 460 G4 afterFlick', '1000 1000 B4 bow']],
    ['a strike', '{F}G4 B4', ['0 40 F#4 strike', '40 960 G4 afterFlick', '1000 1000 B4 bow']],
    [
      'two grace notes',
      '{AF}G4 B4',
      ['0 40 A4 cut', '40 40 F#4 strike', '80 920 G4 afterFlick', '1000 1000 B4 bow'],
    ],
    [
      'a long roll',
      '~G3B d4',
      [
        '0 250 G4 bow',
        '250 40 A4 cut',
        '290 210 G4 afterFlick',
        '500 40 F#4 strike',
        '540 210 G4 afterFlick',
        '750 250 B4 bow',
        '1000 1000 D5 bow',
      ],
    ],
    [
      'a short roll',
      '~G2B2 d4',
      [
        '0 40 A4 cut',
        '40 210 G4 afterFlick',
        '250 40 F#4 strike',
        '290 210 G4 afterFlick',
        '500 500 B4 bow',
        '1000 1000 D5 bow',
      ],
    ],
    [
      'a roll on a quaver is a cut',
      '~GA B2 d4',
      ['0 40 A4 cut', '40 210 G4 afterFlick', '250 250 A4 bow', '500 500 B4 bow', '1000 1000 D5 bow'],
    ],
    [
      'a roll on a minim waits',
      '~G4 d4',
      [
        '0 500 G4 bow',
        '500 40 A4 cut',
        '540 210 G4 afterFlick',
        '750 40 F#4 strike',
        '790 210 G4 afterFlick',
        '1000 1000 D5 bow',
      ],
    ],
    [
      'a roll written out is one stroke',
      'G{A}G{F}GB d4',
      [
        '0 250 G4 bow',
        '250 40 A4 cut',
        '290 210 G4 afterFlick',
        '500 40 F#4 strike',
        '540 210 G4 afterFlick',
        '750 250 B4 bow',
        '1000 1000 D5 bow',
      ],
    ],
    [
      'a short roll written out is one stroke',
      '{A}G{F}GB2 d4',
      [
        '0 40 A4 cut',
        '40 210 G4 afterFlick',
        '250 40 F#4 strike',
        '290 210 G4 afterFlick',
        '500 500 B4 bow',
        '1000 1000 D5 bow',
      ],
    ],
    ['a staccato note', '.G2B2 d4', ['0 250 G4 bow', '500 500 B4 bow', '1000 1000 D5 bow']],
    ['a drone', '[BD]4 d4', ['0 1000 B4 bow', '0 1000 D4 bow beside', '1000 1000 D5 bow']],
    ['a slur', '(GA)B2 d4', ['0 250 G4 bow', '250 250 A4 slur', '500 500 B4 bow', '1000 1000 D5 bow']],
    [
      'equal notes under a slur are bowed',
      '(GG)B2 d4',
      ['0 250 G4 bow', '250 250 G4 bow', '500 500 B4 bow', '1000 1000 D5 bow'],
    ],
    ['a tie is one sound', 'G4-G2B2', ['0 1500 G4 bow', '1500 500 B4 bow']],
    [
      'a trill',
      '!trill!G2B2 d4',
      ['0 70 G4 bow', '70 70 A4 slur', '140 360 G4 slur', '500 500 B4 bow', '1000 1000 D5 bow'],
    ],
  ])('%s', (_, body, sounds) => expect(barOf(body)).toEqual(sounds));

  // Source: S. Eydmann, "Unravelling the birl", 2006: about 1 : 1 : 3 in 0.320 s.
  test.each([
    { form: 'a triplet', body: '(3GGG B2 d4' },
    { form: 'short, short, long', body: 'G/G/G B2 d4' },
  ])('a treble as $form is 1 : 1 : 3 in 0.32 s, the rest goes to its last note', ({ body }) => {
    expect(barOf(body).slice(0, 4)).toEqual([
      '0 64 G4 treble',
      '64 64 G4 treble',
      '128 372 G4 bow',
      '500 500 B4 bow',
    ]);
  });
  test('up to speed a treble fills its crotchet', () => {
    expect(barOf('(3GGA B2 d4', 106).slice(0, 3)).toEqual([
      '0 57 G4 treble',
      '57 57 G4 treble',
      '113 170 A4 bow',
    ]);
  });
  test('a slide comes from a semitone below', () => {
    const timeline = timelineOf(tuneOf('!slide!B4 d4|G8|]'), {
      beatsPerMinute: 60,
      melody: true,
      backing: null,
    });
    const [first, second] = fiddleOf(timeline);
    expect(first).toMatchObject({ glideFrom: -1, glideTime: 0.07, attack: 'bow' });
    expect(second?.glideFrom).toBeUndefined();
  });
  test('on an open string the second finger cuts a roll', () => {
    expect(barOf('~A3B d4')[1]).toBe('250 40 C5 cut');
  });
  test('a cut may begin a stroke or lie inside one', () => {
    const timeline = timelineOf(tuneOf('B2{c}B2 (A2{B}A2)|G8|]'), {
      beatsPerMinute: 60,
      melody: true,
      backing: null,
    });
    const cuts = fiddleOf(timeline).filter((n) => n.attack === 'cut');
    expect(cuts.slice(0, 2).map((n) => n.newBow)).toEqual([true, undefined]);
    expect(cuts[0]?.address?.grace).toBe(0);
  });
  // The rule: a note keeps at least half of its time.
  test.each([
    { body: '{AGF}GABc d4', share: 0.5 },
    { body: '~GABc d4', share: 0.5 },
    { body: '!trill!GABc d4', share: 0.5 },
  ])('however fast: $body', ({ body, share }) => {
    const lines = barOf(body, 240);
    const quaver = 60 / 240 / 4;
    const main = lines.map((l) => l.split(' ')).findLast((l) => Number(l[0]) < quaver * 1000 - 1);
    expect(Number(main?.[1]) / 1000 / quaver).toBeGreaterThanOrEqual(share - 0.02);
  });
});
