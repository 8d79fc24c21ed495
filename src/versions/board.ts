import type { BarAims } from './bars.ts';
import { type Bounds, type Cell, type CellChoice, cellsOf, choicesFor } from './cells.ts';
import { SEQUENCE_SHARE, STEPS } from './data.ts';
import type { WeighedBar } from './weigh.ts';

/** Notes kept, bar by bar: one flag a note of the line. */
export type Kept = readonly (readonly boolean[])[];

/** What the choice goes by. */
export interface ChooseAims extends Omit<BarAims, 'shift' | 'pressed'> {
  /** Flags of notes that must stay (a sparser density), and that may stay (a fuller one). */
  readonly atLeast?: Kept;
  readonly atMost?: Kept;
}

/** All cells of a tune that are equal, and the ways to thin them. */
export interface CellKind {
  readonly key: string;
  readonly members: { readonly bar: number; readonly cell: number }[];
  options: readonly CellChoice[];
}

/** The whole choice under way: bars, cells, kinds of equal cells. */
export interface Board {
  readonly bars: readonly WeighedBar[];
  readonly cells: readonly (readonly Cell[])[];
  readonly kinds: readonly CellKind[];
  readonly kindOf: readonly (readonly number[])[];
  readonly aims: ChooseAims & BarAims;
}

const maskFrom = (flags: readonly boolean[] | undefined, cell: Cell, otherwise: number): number =>
  flags === undefined
    ? otherwise
    : cell.notes.reduce((mask, _, i) => (flags[cell.first + i] === true ? mask | (1 << i) : mask), 0);

const boundsOf = (cell: Cell, aims: ChooseAims): Bounds | null => {
  if (aims.atLeast === undefined && aims.atMost === undefined) return null;
  const full = (1 << cell.notes.length) - 1;
  return {
    atLeast: maskFrom(aims.atLeast?.[cell.bar], cell, 0),
    atMost: maskFrom(aims.atMost?.[cell.bar], cell, full),
  };
};

const meanOptions = (lists: readonly (readonly CellChoice[])[]): readonly CellChoice[] => {
  const first = lists[0] ?? [];
  if (lists.length <= 1) return first;
  const totals = new Map<number, { cost: number; count: number }>();
  for (const list of lists) {
    for (const { mask, cost } of list) {
      const total = totals.get(mask) ?? { cost: 0, count: 0 };
      total.cost += cost;
      total.count += 1;
      totals.set(mask, total);
    }
  }
  const common = [...totals].filter(([, total]) => total.count === lists.length);
  return common
    .map(([mask, total]) => ({ mask, cost: total.cost / total.count }))
    .sort((a, b) => a.cost - b.cost || a.mask - b.mask);
};

const blendWithShape = (own: readonly CellChoice[], shape: readonly CellChoice[]): readonly CellChoice[] => {
  const costs = new Map(shape.map(({ mask, cost }) => [mask, cost]));
  return own
    .map(({ mask, cost }) => ({
      mask,
      cost: (1 - SEQUENCE_SHARE) * cost + SEQUENCE_SHARE * (costs.get(mask) ?? cost),
    }))
    .sort((a, b) => a.cost - b.cost || a.mask - b.mask);
};

/** Weighs every cell of a tune and puts equal ones together. */
export const layOut = (bars: readonly WeighedBar[], aims: ChooseAims): Board => {
  const cells = bars.map(cellsOf);
  const kinds = new Map<string, CellKind & { lists: (readonly CellChoice[])[]; shape: string; at: number }>();
  const shapes = new Map<string, (readonly CellChoice[])[]>();
  const kindOf = cells.map((inBar, b) =>
    inBar.map((cell, c) => {
      const bar = bars[b] as WeighedBar;
      const context = {
        group: bar.grid.group,
        snapped: aims.snapped,
        step: STEPS[aims.density],
      };
      const list = choicesFor(cell, context, boundsOf(cell, aims));
      const shape = `${bar.line.part} ${cell.shape}`;
      const key =
        bar.grid.kind === 'pairs' ? `${cell.key} ${inBar.map((one) => one.key).join('|')}` : cell.key;
      let kind = kinds.get(key);
      if (kind === undefined) {
        kind = { key, members: [], options: [], lists: [], shape, at: kinds.size };
        kinds.set(key, kind);
      }
      kind.members.push({ bar: b, cell: c });
      kind.lists.push(list);
      const sameShape = shapes.get(shape);
      if (sameShape === undefined) shapes.set(shape, [list]);
      else sameShape.push(list);
      return kind.at;
    }),
  );
  const shapeMeans = new Map([...shapes].map(([shape, lists]) => [shape, meanOptions(lists)]));
  const list = [...kinds.values()];
  for (const kind of list) {
    const common = meanOptions(kind.lists);
    const own = common.length > 0 ? common : (kind.lists[0] ?? []);
    kind.options = blendWithShape(own, shapeMeans.get(kind.shape) ?? own);
  }
  return { bars, cells, kinds: list, kindOf, aims: { ...aims, shift: 0, pressed: false } };
};

/** The ways to thin each cell of a bar. */
export const optionsOf = (board: Board, bar: number): readonly (readonly CellChoice[])[] =>
  (board.kindOf[bar] ?? []).map((kind) => board.kinds[kind]?.options ?? []);

/** What one mask for each cell of a bar keeps. */
export const flagsIn = (cells: readonly Cell[], masks: readonly number[]): readonly boolean[] => {
  const flags: boolean[] = [];
  cells.forEach((cell, c) => {
    const mask = masks[c] ?? 0;
    for (let i = 0; i < cell.notes.length; i += 1) flags.push((mask & (1 << i)) !== 0);
  });
  return flags;
};

/** What the choice of one mask for each kind keeps. */
export const flagsOf = (board: Board, chosen: readonly number[]): Kept =>
  board.cells.map((cells, b) =>
    flagsIn(
      cells,
      (board.kindOf[b] ?? []).map((kind) => chosen[kind] ?? 0),
    ),
  );
