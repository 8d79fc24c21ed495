import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chordChromas, chromaOf, formatChord } from '../music/index.ts';
import { readAbc } from '../notation/index.ts';
import { notesOf } from '../score/index.ts';
import { chordPlanOf } from './index.ts';

const SEED = 20_261_125;

/** Keys in ABC, their keynote's chroma, and the scale from there on. */
const KEYS = [
  { key: 'Ador', tonic: 9, letters: 'ABcdefga' },
  { key: 'Ddor', tonic: 2, letters: 'DEFGABcd' },
  { key: 'Edor', tonic: 4, letters: 'EFGABcde' },
  { key: 'Dmix', tonic: 2, letters: 'DEFGABcd' },
  { key: 'Amix', tonic: 9, letters: 'ABcdefga' },
  { key: 'Emin', tonic: 4, letters: 'EFGABcde' },
  { key: 'Bmin', tonic: 11, letters: 'Bcdefgab' },
] as const;

/** Eight bars of the key's own notes that end on the keynote; `without`: steps of the scale that never sound. */
const modalTunes = fc
  .record({
    home: fc.constantFrom(...KEYS),
    without: fc.subarray([2, 5] as const),
    steps: fc.array(fc.integer({ min: 0, max: 7 }), { minLength: 63, maxLength: 63 }),
  })
  .map(({ home, without, steps }) => {
    const kept = [...home.letters].filter((_, step) => !without.some((w) => w === step));
    const notes = [...steps.map((s) => kept[s % kept.length] ?? kept[0]), home.letters[0]];
    const bars = Array.from({ length: 8 }, (_, i) => notes.slice(8 * i, 8 * i + 8).join(''));
    const [tune] = readAbc(`X:1\nT:Law\nR:reel\nM:4/4\nL:1/8\nK:${home.key}\n${bars.join('|')}|]\n`).tunes;
    if (tune === undefined) throw new Error('no tune');
    return { home, score: tune.score };
  });

describe('every modal tune', () => {
  // Common practice: no dominant sevenths in modal tunes.
  test('has no seventh chord, and no chord with the leading note', () => {
    fc.assert(
      fc.property(modalTunes, ({ home, score }) => {
        for (const { chord } of chordPlanOf(score)) {
          expect(formatChord(chord)).not.toContain('7');
          expect(chordChromas(chord)).not.toContain((home.tonic + 11) % 12);
        }
      }),
      { seed: SEED, numRuns: 150 },
    );
  });
  // Common practice: IV in Dorian only if the tune has its sixth degree.
  test('in Dorian has IV only where it sounds its sixth', () => {
    let withSixth = 0;
    let withFourth = 0;
    fc.assert(
      fc.property(
        modalTunes.filter(({ home }) => home.key.endsWith('dor')),
        ({ home, score }) => {
          const sixth = (home.tonic + 9) % 12;
          const sounds = notesOf(score).some(({ note }) => note.pitches.some((p) => chromaOf(p) === sixth));
          const fourth = chordPlanOf(score).some(
            ({ chord }) => chromaOf(chord.root) === (home.tonic + 5) % 12 && chord.quality === 'major',
          );
          if (sounds) withSixth += 1;
          if (fourth) withFourth += 1;
          expect(fourth && !sounds).toBe(false);
        },
      ),
      { seed: SEED, numRuns: 150 },
    );
    // The law is not empty: tunes with a sixth came up, and some of them got the chord.
    expect(withSixth).toBeGreaterThan(30);
    expect(withFourth).toBeGreaterThan(10);
  });
});
