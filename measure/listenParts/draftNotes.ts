import { toNumber } from '../../src/core/index.ts';
import { barLengthOf, midiOf } from '../../src/music/index.ts';
import { barsOf, type Event, type Score } from '../../src/score/index.ts';

const QUAVERS = 8;

/** On the nearest semiquaver, but a dotted pair's second note where an even pair's stands: both are one playing. */
const placed = (at: number): number => (Math.abs((at % 2) - 1.5) < 0.01 ? at - 0.5 : at);

/** Pitch and length, neighbours of one pitch put together: a roll, a treble or a held note are then alike. */
const tokensOf = (bars: readonly (readonly Event[])[], unitsInWhole: number): readonly string[] => {
  const found: { midi: number; at: number }[] = [];
  let start = 0;
  for (const events of bars) {
    let onset = 0;
    for (const event of events) {
      if (event.kind === 'note') {
        const midi = midiOf(event.pitches[0]);
        if (found.at(-1)?.midi !== midi) found.push({ midi, at: start + placed(onset) });
      }
      onset += toNumber(event.length) * unitsInWhole;
    }
    start += onset;
  }
  return found.map(({ midi, at }, i) => `${midi}:${((found[i + 1]?.at ?? start) - at).toFixed(1)}`);
};

/** Length of the longest sequence that both have. */
const commonLength = (a: readonly string[], b: readonly string[]): number => {
  let row = new Uint16Array(b.length + 1);
  for (const x of a) {
    const next = new Uint16Array(b.length + 1);
    b.forEach((y, j) => {
      next[j + 1] = x === y ? (row[j] as number) + 1 : Math.max(row[j + 1] as number, next[j] as number);
    });
    row = next;
  }
  return row[b.length] as number;
};

/**
 * Share of a tune's written notes that its draft has, in order, with pitch and length; pick-ups, which a draft has
 * elsewhere, are left out.
 * @param barUnits - quavers of the draft's bars: a hornpipe that is printed in 2/4 with semiquavers is drafted in quavers
 */
export const draftShare = (draft: Score | null, written: Score, barUnits: number): number => {
  const numbered = barsOf(written).filter((b) => b.bar.number !== null);
  const full = barLengthOf(written.metre);
  const units = full === null ? QUAVERS : barUnits / toNumber(full);
  const wanted = tokensOf(
    numbered.map((b) => b.bar.events),
    units,
  );
  const made =
    draft === null
      ? []
      : tokensOf(
          barsOf(draft).map((b) => b.bar.events),
          QUAVERS,
        );
  return commonLength(made, wanted) / Math.max(1, wanted.length);
};
