import { add, asWholeNotes } from '../core/index.ts';
import { chromaOf } from '../music/index.ts';
import type { Score } from '../score/index.ts';
import { type Cell, cellsOf } from './cells.ts';
import type { ChordPlan, PlannedChord } from './chordPlan.ts';
import { soundingTimes, type Tonality } from './tonality.ts';
import { chordOf, isMinor, rootOf, type TriadClass, vocabularyOf } from './vocabulary.ts';

/** What a chord gains from a beat of its own root, third and fifth, and loses by a beat of any other note. Ours. */
const GAIN = { root: 1, third: 0.9, fifth: 0.75, other: -0.7 } as const;
/** How much more a note counts by its accent. Ours. */
const ACCENT = [0.7, 1, 1.4] as const;
/** What it costs to change inside a bar: at a cadence, and elsewhere. Ours. */
const INSIDE_BAR = { cadence: 1.2, elsewhere: 6 } as const;
/** What the tonic gains at a close. Ours. */
const CLOSE = 2;

const suits = (cell: Cell, triad: TriadClass): number => {
  const root = rootOf(triad);
  let total = root === 0 ? 0.3 : 0;
  for (const note of cell.notes) {
    const interval = (note.degree - root + 12) % 12;
    const third = isMinor(triad) ? 3 : 4;
    const gain =
      interval === 0 ? GAIN.root : interval === third ? GAIN.third : interval === 7 ? GAIN.fifth : GAIN.other;
    total += gain * note.beats * ACCENT[note.accent];
  }
  if (cell.place === 'close' && root === 0) total += CLOSE / 2;
  return total;
};

const changeCost = (cell: Cell): number => {
  if (cell.opensBar) return 0;
  return cell.place === 'inside' || cell.place === 'first' ? INSIDE_BAR.elsewhere : INSIDE_BAR.cadence;
};

/** The best row of triads for the cells, each from its own vocabulary: a shortest path. */
const bestPath = (
  cells: readonly Cell[],
  words: readonly (readonly TriadClass[])[],
): readonly TriadClass[] => {
  let scores: readonly number[] = [];
  const back: (readonly number[])[] = [];
  cells.forEach((cell, i) => {
    const before = words[i - 1] ?? [];
    const pointers: number[] = [];
    const next = (words[i] ?? []).map((triad) => {
      let best = before.length === 0 ? 0 : Number.NEGATIVE_INFINITY;
      let from = 0;
      before.forEach((previous, k) => {
        const score = (scores[k] ?? 0) - (previous === triad ? 0 : changeCost(cell));
        if (score > best) [best, from] = [score, k];
      });
      pointers.push(from);
      return best + suits(cell, triad);
    });
    back.push(pointers);
    scores = next;
  });
  let at = scores.indexOf(Math.max(...scores));
  const path: TriadClass[] = [];
  for (let i = cells.length - 1; i >= 0; i -= 1) {
    path.unshift(words[i]?.[at] ?? 0);
    at = back[i]?.[at] ?? 0;
  }
  return path;
};

const aboveTonic = (times: readonly number[], tonality: Tonality): readonly number[] =>
  times.map((_, i) => times[(i + chromaOf(tonality.tonic)) % 12] ?? 0);

/**
 * Which chords would a backing player put under this melody?
 * @returns one chord a bar, two where the second half of a bar at a cadence asks for it; nothing for pick-ups
 */
export const inferredChords = (score: Score): ChordPlan => {
  const cells = cellsOf(score);
  if (cells.length === 0) return [];
  const times = soundingTimes(score);
  const words = cells.map((cell) => vocabularyOf(cell.tonality.mode, aboveTonic(times, cell.tonality)));
  const path = bestPath(cells, words);
  const plan: PlannedChord[] = [];
  cells.forEach((cell, i) => {
    const triad = path[i] ?? 0;
    const last = plan.at(-1);
    const joins = last?.part === cell.part && last.bar === cell.bar && path[i - 1] === triad;
    if (last !== undefined && joins)
      plan[plan.length - 1] = { ...last, length: asWholeNotes(add(last.length, cell.length)) };
    else {
      const { part, bar, onset, length } = cell;
      plan.push({ part, bar, onset, length, chord: chordOf(triad, cell.tonality), source: 'inferred' });
    }
  });
  return plan;
};
