import type { ScreenLine } from '../../engrave/index.ts';

/** How far a shade reaches beyond a note's head, to the left, to the right, and beyond the staff. Drawing units. Ours. */
const AROUND = { left: 90, right: 330, staff: 230 } as const;

/** The bar that an address lies in: "A/3" of "A/3/1:4". */
const barOf = (key: string): string => key.slice(0, key.lastIndexOf('/'));

/**
 * Shades behind the notes that are new in their version, neighbours joined.
 * @param added - by id of the version, the keys of its new notes
 * @returns what to put behind the line's drawing, as SVG
 */
export const shadesIn = (line: ScreenLine, added: ReadonlyMap<string, ReadonlySet<string>>): string =>
  line.staves
    .flatMap(({ version, notes, top, bottom }) => {
      const isNew = added.get(version);
      if (isNew === undefined || isNew.size === 0) return [];
      const shades: { from: number; to: number; bar: string; last: number }[] = [];
      notes.forEach(([key, x], i) => {
        if (!isNew.has(key)) return;
        const before = shades.at(-1);
        if (before !== undefined && before.last === i - 1 && before.bar === barOf(key)) {
          before.to = x + AROUND.right;
          before.last = i;
        } else shades.push({ from: x - AROUND.left, to: x + AROUND.right, bar: barOf(key), last: i });
      });
      const y = Math.round(top - AROUND.staff);
      const height = Math.round(bottom - top + 2 * AROUND.staff);
      return shades.map(
        ({ from, to }) =>
          `<rect class="shade" x="${Math.round(from)}" y="${y}" width="${Math.round(to - from)}" height="${height}" rx="90"/>`,
      );
    })
    .join('');
