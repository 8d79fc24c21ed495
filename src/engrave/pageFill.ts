/** A system's heights in points: over its top line, from there to its lowest line, and under that. */
export interface SystemHeights {
  readonly above: number;
  readonly extent: number;
  readonly below: number;
}

/** Room for systems on a page, in points from the page's top. */
export interface Room {
  readonly top: number;
  readonly bottom: number;
}

/** How close systems may come, and how far they are spread, in points. */
export interface Spacing {
  readonly least: number;
  readonly most: number;
}

/** Distance from one system's top line to the next one's when they come as close as they may. */
const closest = (a: SystemHeights, b: SystemHeights, least: number): number =>
  a.extent + a.below + least + b.above;

const neededBy = (systems: readonly SystemHeights[], least: number): number => {
  const [first] = systems;
  const last = systems.at(-1);
  if (first === undefined || last === undefined) return 0;
  const between = systems.slice(1).reduce((sum, s, i) => sum + closest(systems[i] ?? s, s, least), 0);
  return first.above + between + last.extent + last.below;
};

const fits = (systems: readonly SystemHeights[], room: Room, least: number): boolean =>
  neededBy(systems, least) <= room.bottom - room.top;

/**
 * How many systems go on each page: as few pages as can be, filled as evenly as can be.
 * @param rooms - the room on the page of that number when there are that many pages
 * @returns counts that add up to the number of systems; a system too high for any page stands alone
 */
export const systemsPerPage = (
  systems: readonly SystemHeights[],
  rooms: (page: number, pages: number) => Room,
  least: number,
): readonly number[] => {
  for (let pages = 1; pages < systems.length; pages += 1) {
    const counts = evenly(systems, pages, rooms, least) ?? greedily(systems, pages, rooms, least);
    if (counts !== null) return counts;
  }
  return systems.map(() => 1);
};

const evenly = (
  systems: readonly SystemHeights[],
  pages: number,
  rooms: (page: number, pages: number) => Room,
  least: number,
): readonly number[] | null => {
  const counts: number[] = [];
  let start = 0;
  for (let page = 0; page < pages; page += 1) {
    const count = Math.ceil((systems.length - start) / (pages - page));
    if (!fits(systems.slice(start, start + count), rooms(page, pages), least)) return null;
    counts.push(count);
    start += count;
  }
  return counts;
};

const greedily = (
  systems: readonly SystemHeights[],
  pages: number,
  rooms: (page: number, pages: number) => Room,
  least: number,
): readonly number[] | null => {
  const counts: number[] = [];
  let start = 0;
  for (let page = 0; page < pages; page += 1) {
    let count = 0;
    const room = rooms(page, pages);
    while (start + count < systems.length && fits(systems.slice(start, start + count + 1), room, least))
      count += 1;
    if (count === 0) return null;
    counts.push(count);
    start += count;
  }
  return start === systems.length ? counts : null;
};

/**
 * Heights on the page of each system's top line: in equal steps where they leave room for everything, and spread no
 * further than `spacing.most` asks.
 */
export const topLines = (
  systems: readonly SystemHeights[],
  room: Room,
  spacing: Spacing,
): readonly number[] => {
  const [first] = systems;
  const last = systems.at(-1);
  if (first === undefined || last === undefined) return [];
  const start = room.top + first.above;
  const steps = systems.slice(1).map((s, i) => closest(systems[i] ?? s, s, spacing.least));
  const free = room.bottom - last.below - last.extent - start;
  const widest = Math.max(0, ...steps);
  const lines = [start];
  if (widest * steps.length <= free) {
    const step = steps.length === 0 ? 0 : Math.min(free / steps.length, widest + spacing.most);
    for (let i = 0; i < steps.length; i += 1) lines.push((lines.at(-1) ?? start) + step);
    return lines;
  }
  const needed = steps.reduce((sum, s) => sum + s, 0);
  const extra = steps.length === 0 ? 0 : Math.max(0, (free - needed) / steps.length);
  for (const step of steps) lines.push((lines.at(-1) ?? start) + step + extra);
  return lines;
};
