import { asWholeNotes, compare, subtract, type WholeNotes, wholeNotes } from '../core/index.ts';
import type { Chord } from '../music/index.ts';
import { type Bar, type Part, type Score, writtenLengthOf } from '../score/index.ts';
import type { ChordPlan, PlannedChord } from './chordPlan.ts';

const symbolsInside = (bar: Bar, length: WholeNotes) =>
  bar.chords.filter((c) => compare(c.onset, length) < 0).toSorted((a, b) => compare(a.onset, b.onset));

const planOfPart = (part: Part): readonly PlannedChord[] => {
  const plan: PlannedChord[] = [];
  let holding: Chord | null = null;
  part.bars.forEach((bar, index) => {
    const length = writtenLengthOf(bar);
    if (length.num <= 0) return;
    const symbols = symbolsInside(bar, length);
    const starts: { onset: WholeNotes; chord: Chord | null }[] = symbols.map(({ onset, chord }) => ({
      onset,
      chord,
    }));
    if ((starts[0]?.onset.num ?? 1) > 0) starts.unshift({ onset: wholeNotes(0), chord: holding });
    starts.forEach(({ onset, chord }, i) => {
      const end = starts[i + 1]?.onset ?? length;
      if (chord !== null && compare(end, onset) > 0) {
        const own = asWholeNotes(subtract(end, onset));
        plan.push({ part: part.label, bar: index, onset, length: own, chord, source: 'written' });
      }
    });
    holding = starts.at(-1)?.chord ?? holding;
  });
  return plan;
};

/**
 * The chords that the tune itself says: a symbol holds until the next one or the end of its part, also through bars
 * without symbols. Bars before a part's first symbol, and parts without any, have none here.
 */
export const writtenChords = (score: Score): ChordPlan => score.parts.flatMap(planOfPart);
