import type { TableBar } from './barTable.ts';

/** For each old bar the place of the new bar that it has become, in the whole list; null where it is gone. */
export type Alignment = readonly (number | null)[];

/** Costs table of a walk through two lists; row and column 0 stand before their first items. */
type Grid = readonly (readonly number[])[];

/** Pairs of places in two lists, rising in both. */
type Pairs = readonly (readonly [old: number, now: number])[];

/**
 * The best way to pair two lists in order.
 * @param worth - what a pair is worth; null where two items may not be paired
 * @returns pairs with the highest worth together; of equally good ways the one that pairs early
 */
const bestPairs = (olds: number, news: number, worth: (o: number, n: number) => number | null): Pairs => {
  const best: number[][] = Array.from({ length: olds + 1 }, () => new Array<number>(news + 1).fill(0));
  for (let o = olds - 1; o >= 0; o -= 1) {
    for (let n = news - 1; n >= 0; n -= 1) {
      const skip = Math.max(best[o + 1]?.[n] ?? 0, best[o]?.[n + 1] ?? 0);
      const own = worth(o, n);
      const row = best[o] as number[];
      row[n] = own === null ? skip : Math.max(skip, own + (best[o + 1]?.[n + 1] ?? 0));
    }
  }
  return readOff(best, worth);
};

const readOff = (best: Grid, worth: (o: number, n: number) => number | null): Pairs => {
  const at = (o: number, n: number): number => best[o]?.[n] ?? 0;
  const pairs: (readonly [number, number])[] = [];
  const [olds, news] = [best.length - 1, (best[0]?.length ?? 1) - 1];
  for (let o = 0, n = 0; o < olds && n < news; ) {
    const own = worth(o, n);
    if (own !== null && at(o, n) === own + at(o + 1, n + 1)) {
      pairs.push([o, n]);
      o += 1;
      n += 1;
    } else if (at(o, n) === at(o + 1, n)) o += 1;
    else n += 1;
  }
  return pairs;
};

/** A pair of equal bars, and how much more it is worth in a part of the same name: it settles ties, no more. Ours. */
const EQUAL = { bar: 4096, samePart: 1 };

/** Equal bars, paired in order: as many as can be. */
const pairEqual = (olds: readonly TableBar[], news: readonly TableBar[]): Pairs => {
  const isSame = (a: TableBar | undefined, b: TableBar | undefined): boolean =>
    a?.fingerprint === b?.fingerprint && a?.part === b?.part;
  let head = 0;
  while (head < olds.length && head < news.length && isSame(olds[head], news[head])) head += 1;
  const most = Math.min(olds.length, news.length) - head;
  let tail = 0;
  while (tail < most && isSame(olds.at(-1 - tail), news.at(-1 - tail))) tail += 1;
  const middle = bestPairs(olds.length - head - tail, news.length - head - tail, (o, n) => {
    const [a, b] = [olds[head + o], news[head + n]];
    if (a?.fingerprint !== b?.fingerprint) return null;
    return EQUAL.bar + (a?.part === b?.part ? EQUAL.samePart : 0);
  });
  const ends = (length: number, from: number, to: number): Pairs =>
    Array.from({ length }, (_, i) => [from + i, to + i] as const);
  return [
    ...ends(head, 0, 0),
    ...middle.map(([o, n]) => [head + o, head + n] as const),
    ...ends(tail, olds.length - tail, news.length - tail),
  ];
};

/** How alike two bars are, 0…1: the share of their notes that are in both. */
const likeness = (a: string, b: string): number => {
  const left = a.split(' ');
  const right = b.split(' ');
  const all = left.length + right.length;
  let common = 0;
  for (const note of left) {
    const at = right.indexOf(note);
    if (at === -1) continue;
    right.splice(at, 1);
    common += 1;
  }
  return (2 * common) / all;
};

/** Bars between two that are paired: changed ones, paired in order by likeness, as many as can be. */
const pairChanged = (olds: readonly TableBar[], news: readonly TableBar[]): Pairs =>
  bestPairs(olds.length, news.length, (o, n) => {
    const [a, b] = [olds[o], news[n]];
    return a === undefined || b === undefined ? null : 1 + likeness(a.fingerprint, b.fingerprint);
  });

/** Bars that are left over on both sides and equal have been moved: each goes to the first that is free. */
const pairMoved = (olds: readonly TableBar[], news: readonly TableBar[], found: (number | null)[]): void => {
  const taken = new Set(found);
  const free = new Map<string, number[]>();
  news.forEach(({ fingerprint }, n) => {
    if (!taken.has(n)) free.set(fingerprint, [...(free.get(fingerprint) ?? []), n]);
  });
  olds.forEach(({ fingerprint }, o) => {
    if (found[o] === null) found[o] = free.get(fingerprint)?.shift() ?? null;
  });
};

/**
 * What has become of the bars of a tune?
 *
 * Equal bars are paired in order first, then bars that were moved as they are; what stands between the same neighbours
 * as before is the old bar changed. Labels of parts only settle ties, so that a part may be renamed, cut or joined.
 */
export const alignBars = (olds: readonly TableBar[], news: readonly TableBar[]): Alignment => {
  const found: (number | null)[] = olds.map(() => null);
  const equal = pairEqual(olds, news);
  for (const [o, n] of equal) found[o] = n;
  pairMoved(olds, news, found);
  const moved = new Set(found);
  const fences: Pairs = [[-1, -1], ...equal, [olds.length, news.length]];
  fences.slice(1).forEach(([oldEnd, newEnd], i) => {
    const [oldStart, newStart] = fences[i] ?? [-1, -1];
    const left = places(oldStart + 1, oldEnd).filter((o) => found[o] === null);
    const open = places(newStart + 1, newEnd).filter((n) => !moved.has(n));
    const pick = (list: readonly TableBar[], at: readonly number[]): readonly TableBar[] =>
      at.flatMap((place) => list[place] ?? []);
    for (const [o, n] of pairChanged(pick(olds, left), pick(news, open)))
      found[left[o] ?? -1] = open[n] ?? null;
  });
  return found;
};

const places = (from: number, to: number): readonly number[] =>
  Array.from({ length: to - from }, (_, i) => from + i);
