import { describe, expect, test } from 'vitest';
import { formatRational } from '../core/index.ts';
import { formatPitch } from '../music/index.ts';
import { readOne } from '../notation/testing/readOne.ts';
import { barsOf, type Score } from '../score/index.ts';
import { bonesOf, fitOf, plainOf, reportOf } from './index.ts';

const REEL = 'R:reel\nM:4/4\nL:1/8\nK:G';

/** All events as "G4:1/8-", a dash where a note is tied on. */
const written = (score: Score): readonly string[] =>
  barsOf(score).map(({ bar }) =>
    bar.events
      .map((e) => {
        const length = formatRational(e.length);
        return e.kind === 'rest'
          ? `z:${length}`
          : `${formatPitch(e.pitches[0])}:${length}${e.tiedToNext ? '-' : ''}`;
      })
      .join(' '),
  );

describe('ties that lead to another pitch are none (regression)', () => {
  const music = 'A/-B3/2AB A2G-E|GABc d2BG|d-c-d.B G2A2|G8|';
  const plain = plainOf(readOne(music, REEL).score);

  test('the plain version strikes each of the notes', () => {
    expect(written(plain)[0]).toBe('A4:1/16 B4:3/16 A4:1/8 B4:1/8 A4:1/4 G4:1/8 E4:1/8');
    expect(written(plain).join(' ')).not.toContain('-');
  });
  test('the bones strike no note that is held there, and hold it as one', () => {
    const bones = bonesOf(plain);
    expect(written(bones).join(' ')).not.toContain('-');
    expect(fitOf(bones, plain).fits).toBe(true);
  });
  test('true ties stay, over bar lines too', () =>
    expect(
      written(plainOf(readOne('d2fd A2d2-|d2fd A4-A2G2|', REEL).score))
        .join(' ')
        .match(/-/g),
    ).toHaveLength(2));
  test('at a repeat a tie may lead back, and stays', () =>
    expect(written(plainOf(readOne('|:G2BG d4|cABc G4-:|B8|', REEL).score))[1]).toMatch(/-$/));
});

describe('the report of the versions', () => {
  const full = readOne('{c}B2(3BcdA-GAB|~G3A B2d2|', REEL).score;
  const plain = plainOf(full);
  const bones = bonesOf(plain);
  const report = reportOf({ full, plain, bones });

  test('counts strokes bar by bar, and they add up', () => {
    for (const version of ['bones', 'plain', 'full'] as const) {
      const strokes = report.bars.reduce((total, bar) => total + bar.strokes[version], 0);
      expect(strokes).toBe(report.notes[version]);
    }
    expect(report.notes).toMatchObject({ plain: 11, full: 12 });
    expect(report.bars.map((bar) => [bar.part, bar.bar, bar.number])).toEqual([
      ['A', 0, 1],
      ['A', 1, 2],
    ]);
  });
  test('names what was left out', () => {
    expect(report.leftOut.ornaments).toMatchObject({ cut: 1, runTriplet: 1, longRoll: 1 });
    expect(report.leftOut.plainNotes).toBe(report.notes.plain - report.notes.bones);
    expect(report.density).toBeCloseTo(report.notes.bones / report.notes.plain, 12);
  });
  test('says that all go together', () => {
    expect(fitOf(bones, plain).fits).toBe(true);
    expect(fitOf(plain, full).fits).toBe(true);
    expect(fitOf(bones, plain, full).fits).toBe(true);
  });
});
