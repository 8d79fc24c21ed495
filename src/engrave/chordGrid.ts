import { toNumber } from '../core/index.ts';
import { barLengthOf, printedChord } from '../music/index.ts';
import { type Bar, type CountedBar, type Score, writtenLengthOf } from '../score/index.ts';
import { type FramedBar, type GridPart, gridPartsOf } from './barGrid.ts';

/** A chord in a box of the grid. */
export interface GridChord {
  /** "F♯m". */
  readonly name: string;
  /** Share of the bar at which it begins, 0 … 1. */
  readonly at: number;
}

/** One counted bar as a box. */
export interface ChordBox extends FramedBar {
  /** In order; empty only before the tune's first chord. */
  readonly chords: readonly GridChord[];
}

const lengthOf = (bar: Bar): number => {
  const full = barLengthOf(bar.metre);
  return Math.max(full === null ? 0 : toNumber(full), toNumber(writtenLengthOf(bar))) || 1;
};

/** The chords that sound in a counted bar, the one held over from before it first. */
const chordsIn = (bar: CountedBar, held: string | null): readonly GridChord[] => {
  const length = lengthOf(bar.main);
  const chords: GridChord[] = held === null ? [] : [{ name: held, at: 0 }];
  let offset = 0;
  for (const written of [bar.main, ...bar.behind]) {
    for (const symbol of written.chords) {
      const at = Math.min(0.99, offset + toNumber(symbol.onset) / length);
      const name = printedChord(symbol.chord);
      if (at === 0) chords.length = 0;
      if (chords.at(-1)?.name !== name) chords.push({ name, at });
    }
    offset += toNumber(writtenLengthOf(written)) / length;
  }
  return chords;
};

/**
 * The chords of a tune bar by bar: every counted bar names what sounds in it, also where the chord was held over.
 *
 * Chords of pick-ups are left out: a guitarist comes in on the first full bar.
 */
export const chordGridOf = (score: Score): readonly GridPart<ChordBox>[] => {
  let held: string | null = null;
  return gridPartsOf(score, (bar, frame): ChordBox => {
    const chords = chordsIn(bar, held);
    held = chords.at(-1)?.name ?? held;
    return { ...frame, chords };
  });
};
