import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readAbc } from '../../notation/index.ts';
import { scoreArbitrary } from '../../notation/testing/scoreArbitrary.ts';
import { notesOf, type Score } from '../../score/index.ts';
import { lessonOf } from '../lesson.ts';
import { DEFAULT_SETTINGS } from '../settings.ts';
import { teachingNotesOf } from './teachingNotes.ts';
import { checkedNotes, falsehoodOf, sayingsOf, statedIn } from './testing/claimCheck.ts';

const DATA = fileURLToPath(new URL('../../../../shared/data/corpora/', import.meta.url));
const skipped = !existsSync(DATA);
if (skipped) process.stderr.write('skipped: notes on corpus tunes, ../shared is not here\n');
const DEMO = new URL('../../../demo/lessons/', import.meta.url);
/** As many printed tunes as are looked at here; test/partWriting.test.ts takes three hundred. */
const TUNES = 20;

const demo = (name: string): Score => {
  const [tune] = readAbc(readFileSync(new URL(`${name}/tune.abc`, DEMO), 'utf8')).tunes;
  if (tune === undefined) throw new Error(name);
  return tune.score;
};

describe('every fact that the notes state holds in the score', () => {
  test.each(readdirSync(DEMO))('of the demo lesson %s', (name) => {
    const { facts, wrong } = checkedNotes(demo(name));
    expect(wrong).toEqual([]);
    expect(facts).toBeGreaterThan(80);
  });
  test('of whatever can be written', () => {
    fc.assert(
      fc.property(scoreArbitrary, (score) => {
        expect(checkedNotes(score).wrong).toEqual([]);
      }),
      { seed: 20261125, numRuns: 25 },
    );
  });
  test.skipIf(skipped)('of printed tunes', () => {
    const files = readdirSync(DATA, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.abc'));
    const tunes = files.flatMap((f) => readAbc(readFileSync(DATA + f, 'latin1')).tunes);
    const chosen = tunes.filter(
      (t, i) => i % Math.floor(tunes.length / TUNES) === 0 && notesOf(t.score).length > 0,
    );
    expect(chosen.flatMap((t) => checkedNotes(t.score).wrong)).toEqual([]);
    expect(chosen.length).toBeGreaterThan(TUNES / 2);
  });
});

test("the check fails on another tune's facts", () => {
  const lesson = lessonOf(demo('the-lantern-at-hollin-quay'), { ...DEFAULT_SETTINGS, date: '2026-01-31' });
  const other = { ...lesson, versions: { ...lesson.versions, full: demo('seven-thimbles') } };
  const stated = sayingsOf(teachingNotesOf(lesson)).flatMap(statedIn);
  const wrong = stated.filter(({ piece, saying }) => falsehoodOf(other, piece, saying) !== null);
  expect(wrong.length).toBeGreaterThan(50);
});
