import { describe, expect, test } from 'vitest';
import { readAbc } from '../notation/index.ts';
import type { Score } from '../score/index.ts';
import { chordGridOf } from './chordGrid.ts';
import { systemsPerPage, topLines } from './pageFill.ts';
import { signsIn } from './signs.ts';
import { readSvg, writeSvg } from './svgTree.ts';
import { systemRanges } from './systems.ts';
import { sampleScore } from './testing/sampleTunes.ts';
import { cutTo, stretchesOf, widthOf, withSignsInPlace, wrapped } from './text.ts';

const tune = (body: string): Score => {
  const score = readAbc(`X:1\nT:A test\nM:4/4\nL:1/8\nK:G\n${body}\n`).tunes[0]?.score;
  if (score === undefined) throw new Error(body);
  return score;
};
const onSheet = (score: Score) => ({ id: 'full', name: 'Full version', score });
const bars = (count: number): string => 'G8|'.repeat(count);

describe('bars in lines', () => {
  const lengths = (score: Score, available: number, width = 5): readonly number[] => {
    const count = score.parts.reduce((sum, p) => sum + p.bars.length, 0);
    return systemRanges(score, Array(count).fill(width), available).map((r) => r.to - r.from);
  };
  test.each([
    [8, [4, 4]],
    [7, [4, 3]],
    [6, [3, 3]],
    [9, [4, 5]],
    [12, [4, 4, 4]],
    [11, [4, 4, 3]],
    [1, [1]],
  ])('%i bars stand as %j', (count, wanted) => expect(lengths(tune(bars(count)), 40)).toEqual(wanted));
  test('two or three where four do not fit', () => {
    expect(lengths(tune(bars(8)), 18)).toEqual([3, 3, 2]);
    expect(lengths(tune(bars(8)), 13)).toEqual([2, 2, 2, 2]);
  });
  test('a bar wider than the paper still gets a line', () =>
    expect(lengths(tune(bars(2)), 3)).toEqual([1, 1]));
  test('a pick-up stands with the bar that it leads into, and each part begins a line', () => {
    const ranges = systemRanges(sampleScore('dressedReel'), Array(19).fill(5), 40);
    expect(ranges.map((r) => [r.from, r.to, r.part])).toEqual([
      [0, 5, 'A'],
      [5, 10, null],
      [10, 15, 'B'],
      [15, 19, null],
    ]);
  });
});

describe('systems on pages', () => {
  const system = { above: 20, extent: 20, below: 10 };
  const room = () => ({ top: 0, bottom: 300 });
  test('as few pages as can be, filled evenly', () => {
    expect(systemsPerPage(Array(5).fill(system), room, 5)).toEqual([5]);
    expect(systemsPerPage(Array(6).fill(system), room, 5)).toEqual([3, 3]);
    expect(systemsPerPage(Array(11).fill(system), room, 5)).toEqual([4, 4, 3]);
  });
  test('a system higher than the page stands alone', () =>
    expect(systemsPerPage([system, { ...system, extent: 900 }], room, 5)).toEqual([1, 1]));
  test('stand in equal steps, not spread further than asked, within the room', () => {
    const lines = topLines(Array(3).fill(system), room(), { least: 5, most: 15 });
    expect(lines).toEqual([20, 90, 160]);
    const full = topLines(Array(5).fill(system), room(), { least: 5, most: 500 });
    expect((full.at(-1) ?? 0) + 30).toBeCloseTo(300);
  });
});

describe('words', () => {
  test('are as wide as the font says', () => {
    // Source: the font's own table: Times-metric "A" 722, "i" 278 thousandths.
    expect(widthOf('A', 1000)).toBe(722);
    expect(widthOf('i', 1000)).toBe(278);
    expect(widthOf('AA', 10, 'bold')).toBeGreaterThan(widthOf('A', 10, 'bold'));
  });
  test('musical signs are stretches of their own', () =>
    expect(stretchesOf('F♯m/C♯').map((s) => s.text)).toEqual(['F', '♯', 'm/C', '♯']));
  test('wrap within the width and are cut with an ellipsis', () => {
    const style = { size: 10 } as const;
    const lines = wrapped(`one two three ${'w'.repeat(80)}`, 60, style);
    for (const line of lines) expect(widthOf(line, 10)).toBeLessThanOrEqual(60);
    expect(lines.join('').replaceAll(' ', '')).toBe(`onetwothree${'w'.repeat(80)}`);
    expect(cutTo('abcdefghij', 30, style)).toMatch(/^abc.*…$/);
  });
});

test('a drawing is read and written without loss', () => {
  const text = '<svg viewBox="0 0 1 1"><text x="1">a &amp; &lt;b&gt;</text><g/></svg>';
  expect(writeSvg(readSvg(text))).toBe(
    '<svg viewBox="0 0 1 1"><text x="1">a &amp; &lt;b&gt;</text><g/></svg>',
  );
  expect(() => readSvg('<a><b></a>')).toThrow(RangeError);
});

test('the key lists the signs that occur, no others', () => {
  expect(signsIn([onSheet(sampleScore('dressedReel'))])).toEqual([
    'downBow',
    'upBow',
    'slur',
    'cut',
    'roll',
    'treble',
    'run',
    'slide',
    'drone',
    'finger',
  ]);
  expect(signsIn([onSheet(tune('G8|'))])).toEqual([]);
});

test('every box of the chord grid names what sounds, also where it was held over', () => {
  const [a, b] = chordGridOf(tune('D|"G"G4 "D7"A4|B8|1"C"c8:|2"G"G7||e|"Em"e8|]'));
  expect(a?.bars.map((bar) => bar.chords.map((c) => c.name))).toEqual([['G', 'D7'], ['D7'], ['C'], ['G']]);
  expect(a?.bars.map((bar) => bar.ending)).toEqual([null, null, [1], [2]]);
  expect(a?.bars[0]?.chords[1]?.at).toBe(0.5);
  expect(b?.bars.map((bar) => bar.number)).toEqual([5]);
});

test('signs of a small picture keep their width in a reader without their font', () => {
  const picture = '<text x="1" font-family="Leipzig" font-size="370">♯</text><text font-size="370">m</text>';
  expect(withSignsInPlace(picture)).toBe(
    '<text x="1" font-family="Leipzig" font-size="370" textLength="100.6" lengthAdjust="spacingAndGlyphs">♯</text><text font-size="370">m</text>',
  );
});
