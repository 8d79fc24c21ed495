import { formatChord } from '../music/index.ts';
import type { Bar, ChordSymbol, Score } from '../score/index.ts';
import type { ChordPlan, PlannedChord } from './chordPlan.ts';
import { inferredChords } from './infer.ts';
import { writtenChords } from './written.ts';

const barKey = (at: { readonly part: string; readonly bar: number }): string => `${at.bar}/${at.part}`;

/** The plan's chords by bar. */
const byBar = (plan: ChordPlan): ReadonlyMap<string, readonly PlannedChord[]> => {
  const bars = new Map<string, PlannedChord[]>();
  for (const chord of plan) {
    const own = bars.get(barKey(chord));
    if (own === undefined) bars.set(barKey(chord), [chord]);
    else own.push(chord);
  }
  return bars;
};

/**
 * What chords go with this tune, and where?
 *
 * Written chords are used as they stand: a symbol holds until the next one or the end of its part. Bars that no symbol
 * reaches are filled with chords found from the melody.
 * @returns chords in written order
 */
export const chordPlanOf = (score: Score): ChordPlan => {
  const written = byBar(writtenChords(score));
  const everyBarSays = score.parts.every((part) =>
    part.bars.every((bar, i) => bar.role === 'pickup' || written.has(barKey({ part: part.label, bar: i }))),
  );
  const inferred = everyBarSays ? new Map<string, readonly PlannedChord[]>() : byBar(inferredChords(score));
  return score.parts.flatMap((part) =>
    part.bars.flatMap((_, bar) => {
      const key = barKey({ part: part.label, bar });
      return written.get(key) ?? inferred.get(key) ?? [];
    }),
  );
};

/** Whether a player needs to be told the chord anew here, also when it is the one before. */
const tellsAnew = (bar: Bar, index: number): boolean =>
  index === 0 || bar.repeatStart > 0 || bar.ending !== null;

const symbolsOf = (chords: readonly PlannedChord[], before: string | null): readonly ChordSymbol[] => {
  let current = before;
  return chords.flatMap(({ chord, onset }) => {
    const text = formatChord(chord);
    if (text === current) return [];
    current = text;
    return [{ onset, chord, text }];
  });
};

/**
 * The tune with the plan's chords as symbols over the bars, as a sheet prints them.
 *
 * Symbols that the tune has itself stay as written. Found chords are written where the chord changes, and told again
 * where a part, a repeat or an ending begins.
 */
export const withChords = (score: Score, plan: ChordPlan): Score => {
  const bars = byBar(plan);
  return {
    ...score,
    parts: score.parts.map((part) => {
      let current: string | null = null;
      return {
        ...part,
        bars: part.bars.map((bar, index) => {
          const chords = bars.get(barKey({ part: part.label, bar: index })) ?? [];
          const before: string | null = tellsAnew(bar, index) ? null : current;
          const last = chords.at(-1);
          if (last !== undefined) current = formatChord(last.chord);
          if (chords.some((c) => c.source === 'written')) return bar;
          return { ...bar, chords: symbolsOf(chords, before) };
        }),
      };
    }),
  };
};
