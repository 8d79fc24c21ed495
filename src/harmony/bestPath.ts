import type { TriadClass } from './vocabulary.ts';

/** What a row of choices is judged by: gains are added, the greatest sum wins. */
export interface Judgement {
  /** The triads to choose from at each place, never empty. */
  readonly choices: readonly (readonly TriadClass[])[];
  /** How well a triad suits the place by itself. */
  readonly suits: (at: number, triad: TriadClass) => number;
  /** How well it follows the one before; null at the start. */
  readonly follows: (at: number, before: TriadClass | null, triad: TriadClass) => number;
}

/** The best of the ways that lead to one triad. */
interface Way {
  readonly triad: TriadClass;
  readonly gain: number;
  /** Index among the ways of the place before. */
  readonly from: number;
}

const wayTo = (judged: Judgement, at: number, triad: TriadClass, before: readonly Way[]): Way => {
  const own = judged.suits(at, triad);
  if (before.length === 0) return { triad, gain: own + judged.follows(at, null, triad), from: 0 };
  let best = Number.NEGATIVE_INFINITY;
  let from = 0;
  before.forEach((way, i) => {
    const gain = way.gain + judged.follows(at, way.triad, triad);
    if (gain > best) [best, from] = [gain, i];
  });
  return { triad, gain: own + best, from };
};

/** Which row of triads, one a place, gains most? (Viterbi's path; of equal rows the first.) */
export const bestPath = (judged: Judgement): readonly TriadClass[] => {
  const ways: (readonly Way[])[] = [];
  judged.choices.forEach((triads, at) => {
    ways.push(triads.map((triad) => wayTo(judged, at, triad, ways[at - 1] ?? [])));
  });
  const last = ways.at(-1) ?? [];
  let index = last.reduce((best, way, i) => (way.gain > (last[best]?.gain ?? 0) ? i : best), 0);
  const path: TriadClass[] = [];
  for (const row of ways.toReversed()) {
    const way = row[index];
    if (way === undefined) break;
    path.push(way.triad);
    index = way.from;
  }
  return path.reverse();
};
