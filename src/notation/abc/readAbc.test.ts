import { describe, expect, test } from 'vitest';
import { formatRational } from '../../core/index.ts';
import { formatPitch } from '../../music/index.ts';
import { barsOf, notesOf, type Score } from '../../score/index.ts';
import { readAbc } from './index.ts';

const tuneOf = (music: string, header = 'M:4/4\nL:1/8\nK:C'): Score => {
  const tune = readAbc(`X:1\nT:Test\n${header}\n${music}\n`).tunes[0];
  if (tune === undefined) throw new Error('no tune');
  return tune.score;
};
const lengthsOf = (score: Score): readonly string[] =>
  barsOf(score).flatMap(({ bar }) => bar.events.map((e) => formatRational(e.length)));
const pitchesOf = (score: Score): readonly string[] =>
  notesOf(score).map(({ note }) => formatPitch(note.pitches[0]));

// Source: ABC standard 2.1 (December 2011), section 4.4 "Broken rhythm".
test.each([
  { written: 'A>B', lengths: ['3/16', '1/16'] },
  { written: 'A>>B', lengths: ['7/32', '1/32'] },
  { written: 'A>>>B', lengths: ['15/64', '1/64'] },
  { written: 'A<B', lengths: ['1/16', '3/16'] },
  { written: 'A<{g}A', lengths: ['1/16', '3/16'] },
  { written: 'A{g}<A', lengths: ['1/16', '3/16'] },
])('$written in quavers', ({ written, lengths }) => expect(lengthsOf(tuneOf(written))).toEqual(lengths));

describe('accidentals', () => {
  // Source: ABC standard 2.1, section 11.3: to the bar's end, in all octaves.
  test('hold in all octaves to the bar line', () => {
    expect(pitchesOf(tuneOf('^FfF,f|f'))).toEqual(['F#4', 'F#5', 'F#3', 'F#5', 'F5']);
  });
  test('a tie carries one over the bar line, for its own note only', () => {
    expect(pitchesOf(tuneOf('^f4-|fgaf'))).toEqual(['F#5', 'F#5', 'G5', 'A5', 'F5']);
  });
});
