import type { Cell } from './cells.ts';
import type { TriadClass } from './vocabulary.ts';

const nameOf = (cell: Cell): string =>
  cell.notes.map((n) => `${n.degree}:${Math.round(n.crotchets * 48)}`).join(' ');

/** Each cell by the melody of its whole bar and its place in it: what comes back with the same name is the same bar again. */
const namesOf = (cells: readonly Cell[]): readonly string[] => {
  const names: string[] = [];
  for (let from = 0; from < cells.length; ) {
    let to = from + 1;
    while (to < cells.length && cells[to]?.bar === cells[from]?.bar && cells[to]?.part === cells[from]?.part)
      to += 1;
    const bar = cells.slice(from, to).map(nameOf).join('|');
    for (let i = from; i < to; i += 1) names.push(`${i - from} ${bar}`);
    from = to;
  }
  return names;
};

/**
 * Which triad do the other bars with the same melody mostly have?
 *
 * Players put the same chords under a phrase that comes back.
 * @param path - the triads found so far, one a cell
 * @returns one a cell: the triad most used in bars like its own (of equally many the first), null for a bar that comes once
 */
export const triadsOfLikeBars = (
  cells: readonly Cell[],
  path: readonly TriadClass[],
): readonly (TriadClass | null)[] => {
  const names = namesOf(cells);
  const used = new Map<string, Map<TriadClass, number>>();
  names.forEach((name, i) => {
    const triads = used.get(name) ?? new Map<TriadClass, number>();
    const triad = path[i] ?? 0;
    used.set(name, triads.set(triad, (triads.get(triad) ?? 0) + 1));
  });
  return names.map((name) => {
    const triads = [...(used.get(name) ?? [])];
    if (triads.reduce((sum, [, n]) => sum + n, 0) < 2) return null;
    return triads.reduce((best, next) => (next[1] > best[1] ? next : best))[0];
  });
};
