import { describe, expect, test } from 'vitest';
import { chordPlanOf } from '../harmony/index.ts';
import { chordChromas, chromaOf, readChord } from '../music/index.ts';
import { type Header, tuneOf } from './testing/tunes.ts';
import type { TimedNote } from './timeline.ts';
import { timelineOf } from './timelineOf.ts';
import { bassNote, guitarVoicing } from './voicing.ts';

const perform = (body: string, header: Header = {}, melody = true) => {
  const score = tuneOf(body, header);
  return timelineOf(score, {
    beatsPerMinute: 60,
    swing: 1,
    times: 1,
    countIn: false,
    melody,
    backing: chordPlanOf(score),
  });
};
const of = (voice: TimedNote['voice'], notes: readonly TimedNote[]): readonly TimedNote[] =>
  notes.filter((n) => n.voice === voice);
const ms = (time: number): number => Math.round(time * 1000);

/** When strokes over the strings begin: the first of notes less than a strum apart. */
const strumsIn = (notes: readonly TimedNote[], until: number): readonly number[] => {
  const starts = of('guitar', notes)
    .filter((n) => n.start < until - 1e-6)
    .map((n) => n.start);
  return starts.filter((s, i) => i === 0 || s - (starts[i - 1] ?? 0) > 0.03).map(ms);
};

// Common practice: bass on the beat and chord off it in reels, hornpipes, polkas; down–up–down in jigs; bass–strum–strum.
describe('what each dance is backed with, in the first bar', () => {
  test.each<readonly [string, string, Header, readonly number[], readonly number[]]>([
    ['reel', '"G"G4 B4|G8|]', {}, [0, 1000], [0, 500, 1000, 1500]],
    ['hornpipe', '"G"G4 B4|G8|]', { rhythm: 'hornpipe' }, [0, 2000], [0, 1000, 2000, 3000]],
    ['polka', '"G"G2 B2|G4|]', { rhythm: 'polka', metre: '2/4' }, [0, 1000], [0, 500, 1000, 1500]],
    ['march in 2/4', '"G"G2 B2|G4|]', { rhythm: 'march', metre: '2/4' }, [0, 1000], [0, 500, 1000, 1500]],
    ['waltz', '"G"G2 B2 d2|G6|]', { rhythm: 'waltz', metre: '3/4' }, [0], [0, 1000, 2000]],
    ['jig', '"G"G3 B3|G6|]', { rhythm: 'jig', metre: '6/8' }, [0, 1000], [0, 340, 650, 1000, 1340, 1650]],
    [
      'slip jig',
      '"G"G3 B3 d3|G9|]',
      { rhythm: 'slip jig', metre: '9/8' },
      [0, 1000, 2000],
      [0, 340, 650, 1000, 1340, 1650, 2000, 2340, 2650],
    ],
    [
      'slide',
      '"G"G3 B3 d3 B3|G12|]',
      { rhythm: 'slide', metre: '12/8' },
      [0, 1000, 2000, 3000],
      [0, 650, 1000, 1650, 2000, 2650, 3000, 3650],
    ],
    [
      'strathspey',
      '"G"G4 B4|G8|]',
      { rhythm: 'strathspey' },
      [0, 1000, 2000, 3000],
      [0, 500, 1000, 1500, 2000, 2500, 3000, 3500],
    ],
    [
      '3/2 hornpipe',
      '"G"G4 B4 d4|G12|]',
      { rhythm: '3/2 hornpipe', metre: '3/2' },
      [0, 1000, 2000],
      [0, 500, 1000, 1500, 2000, 2500],
    ],
  ])('%s', (_, body, header, basses, strums) => {
    const { notes, bars } = perform(body, header);
    const until = bars[0]?.end ?? 0;
    const low = of('bass', notes).filter((n) => n.start < until - 1e-6);
    expect(low.map((n) => ms(n.start))).toEqual(basses);
    expect(strumsIn(notes, until)).toEqual(strums);
  });

  test('a metre of its own is filled to the bar line and no further', () => {
    const { notes, bars } = perform('"G"G4 B|"G"A5|G5|]', { rhythm: 'oddity', metre: '5/8' });
    const [from = 0, to = 0] = [bars[0]?.start, bars[0]?.end];
    const bass = of('bass', notes).filter((n) => n.start >= from && n.start < to - 1e-6);
    expect(bass.length).toBeGreaterThan(1);
    for (const n of bass) expect(n.start + n.length).toBeLessThanOrEqual(to + 1e-6);
  });

  test('an air has its chords broken, each ringing', () => {
    const { notes, bars } = perform('"G"G4 B4|G8|]', { rhythm: 'air' });
    const until = bars[0]?.end ?? 0;
    const guitar = of('guitar', notes).filter((n) => n.start < until / 2 - 1e-6);
    expect(guitar.length).toBeGreaterThanOrEqual(3);
    for (const n of guitar) expect(n.start + n.length).toBeCloseTo(until / 2, 6);
  });
});

describe('backing and tune', () => {
  test('the first pick-up is the fiddle’s own, later ones are backed', () => {
    const { notes, bars } = perform('|:D2|"G"G4 B4|"D"d4 "G"G2:|');
    const backing = notes.filter((n) => n.voice === 'guitar' || n.voice === 'bass');
    expect(backing[0]?.start).toBeCloseTo(bars[1]?.start ?? -1, 9);
    const [from = 0, to = 0] = [bars[3]?.start, bars[3]?.end];
    expect(backing.some((n) => n.start >= from - 1e-6 && n.start < to - 1e-6)).toBe(true);
  });
  test('swings with the tune', () => {
    const score = tuneOf('"G"GABc d2e2|G8|]', { rhythm: 'strathspey' });
    const timeline = timelineOf(score, {
      beatsPerMinute: 60,
      swing: 2,
      times: 1,
      countIn: false,
      melody: true,
      backing: chordPlanOf(score),
    });
    expect(strumsIn(timeline.notes, 2)).toEqual([0, 667, 1000, 1667]);
  });
  test('the closing chord is held with the closing note', () => {
    const { notes, length } = perform('"G"G4 B4|"D"d4 "G"G4|]');
    const close = of('fiddle', notes).at(-1);
    const held = of('guitar', notes).filter((n) => n.start >= (close?.start ?? 0) - 1e-6);
    expect(held.length).toBeGreaterThanOrEqual(4);
    for (const n of held) expect(n.start + n.length).toBeCloseTo(length, 9);
    const bass = of('bass', notes).at(-1);
    expect(bass && bass.midi % 12).toBe(7);
    expect(bass?.start).toBe(close?.start);
  });
  test('alone it is the same backing', () => {
    const body = '|:D2|"G"G4 B4|"D"d4 "G"G2:|';
    const together = perform(body).notes.filter((n) => n.voice !== 'fiddle');
    const alone = perform(body, {}, false);
    expect(alone.notes).toEqual(together);
    expect(alone.length).toBe(perform(body).length);
  });
  test('is softer than the fiddle and stays in its ranges', () => {
    const { notes } = perform('"G"GABc "Am"d2e2|"C"efgf "D7"edcA|"Em"GABc "G"d4|"F"fefd "C"c4|"G"G8|]');
    const softest = Math.min(...notes.filter((n) => n.voice === 'fiddle').map((n) => n.level));
    for (const n of of('guitar', notes)) {
      expect(n.midi).toBeGreaterThanOrEqual(40);
      expect(n.midi).toBeLessThanOrEqual(76);
      expect(n.level).toBeLessThan(softest);
    }
    for (const n of of('bass', notes)) {
      expect(n.midi).toBeGreaterThanOrEqual(28);
      expect(n.midi).toBeLessThanOrEqual(55);
      expect(n.level).toBeLessThan(softest);
    }
  });
  test('no string is plucked twice at once', () => {
    const { notes } = perform('"Am"A3 c3|"G"B3 d3|"Am"A6|]', { rhythm: 'jig', metre: '6/8', key: 'Ador' });
    const guitar = of('guitar', notes);
    const twice = guitar.filter((n, i) =>
      guitar.some((m, k) => k < i && m.midi === n.midi && n.start - m.start < 0.03),
    );
    expect(twice).toEqual([]);
  });
  test('a chord that begins off the bass stroke gets its bass all the same', () => {
    const bass = of('bass', perform('"G"G2 "D"A2 "G"B4|G8|]').notes);
    expect(bass.slice(0, 3).map((n) => [ms(n.start), n.midi % 12])).toEqual([
      [0, 7],
      [500, 2],
      [1000, 7],
    ]);
  });
});

describe('the guitar hand', () => {
  const names =
    'G D Em Am C Bm A E F#m Bb F Gm Dm Cm Eb Ab D5 G5 A5 E5 G/B D/F# A7 Dm7 Bdim F#dim7 Esus4 Gmaj7 Caug'.split(
      ' ',
    );
  test.each(names)('%s has its tones, its bass lowest, one note a string', (name) => {
    const chord = readChord(name);
    if (chord === null) throw new Error(name);
    const grip = guitarVoicing(chord, []);
    const tones = chordChromas(chord);
    expect(grip.length).toBeGreaterThanOrEqual(3);
    expect(grip).toEqual([...new Set(grip)].toSorted((a, b) => a - b));
    for (const p of grip) expect(tones).toContain(p % 12);
    expect((grip[0] ?? 0) % 12).toBe(chromaOf(chord.bass ?? chord.root));
    if (chord.quality === 'major' || chord.quality === 'minor')
      expect(tones.every((t) => grip.some((p) => p % 12 === t))).toBe(true);
  });
  test.each([
    ['D', [50, 57, 62, 66]],
    ['Am', [45, 52, 57, 60, 64]],
    ['Em', [40, 47, 52, 55, 59, 64]],
    ['E', [40, 47, 52, 56, 59, 64]],
    ['F', [41, 48, 53, 57, 60, 65]],
  ] as const)('%s is the grip that everybody knows', (name, grip) => {
    const chord = readChord(name);
    expect(chord && guitarVoicing(chord, [])).toEqual(grip);
  });
  test.each([
    ['G', 31, 38],
    ['D', 38, 33],
    ['Em', 28, 35],
    ['D/F#', 30, 38],
    ['A5', 33, 28],
  ] as const)('the bass on %s goes %i, %i', (name, first, second) => {
    const chord = readChord(name);
    expect(chord && [bassNote(chord, 0), bassNote(chord, 1), bassNote(chord, 2)]).toEqual([
      first,
      second,
      first,
    ]);
  });
});
