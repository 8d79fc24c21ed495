import { type BarAims, type BarChoice, barChoices, isRunning, joinCost, judgeBar } from './bars.ts';
import { type Bounds, type Cell, type CellChoice, cellsOf, choicesFor } from './cells.ts';
import { AIM_STEP, FILL, MOST_FILL, MOST_ROUNDS, MOSTLY_RUNNING, SEQUENCE_SHARE } from './data.ts';
import type { WeighedBar } from './weigh.ts';

/** Notes kept, bar by bar: one flag a note of the line. */
export type Kept = readonly (readonly boolean[])[];

/** What the choice goes by. */
export interface ChooseAims extends Omit<BarAims, 'shift'> {
  /** Snaps and dots are the dance's character. */
  readonly snapped: boolean;
  /** Flags of notes that must stay (a sparser density), and that may stay (a fuller one). */
  readonly atLeast?: Kept;
  readonly atMost?: Kept;
}

interface CellKind {
  readonly key: string;
  readonly members: { readonly bar: number; readonly cell: number }[];
  options: readonly CellChoice[];
}

/** The whole choice under way: bars, cells, kinds of equal cells. */
interface Board {
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

const layOut = (bars: readonly WeighedBar[], aims: ChooseAims): Board => {
  const cells = bars.map(cellsOf);
  const kinds = new Map<string, CellKind & { lists: (readonly CellChoice[])[]; shape: string; at: number }>();
  const shapes = new Map<string, (readonly CellChoice[])[]>();
  const kindOf = cells.map((inBar, b) =>
    inBar.map((cell, c) => {
      const bar = bars[b] as WeighedBar;
      const context = {
        running: bar.grid.running,
        group: bar.grid.group,
        snapped: aims.snapped,
        hook: bar.hook,
      };
      const list = choicesFor(cell, context, boundsOf(cell, aims));
      const shape = `${bar.line.part} ${cell.shape}`;
      let kind = kinds.get(cell.key);
      if (kind === undefined) {
        kind = { key: cell.key, members: [], options: [], lists: [], shape, at: kinds.size };
        kinds.set(cell.key, kind);
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
  return { bars, cells, kinds: list, kindOf, aims: { ...aims, shift: 0 } };
};

const optionsOf = (board: Board, bar: number): readonly (readonly CellChoice[])[] =>
  (board.kindOf[bar] ?? []).map((kind) => board.kinds[kind]?.options ?? []);

/** The cheapest path through all bars' best choices. */
const cheapestPath = (board: Board): readonly BarChoice[] => {
  const columns = board.bars.map((bar, b) =>
    barChoices(bar, board.cells[b] ?? [], { options: optionsOf(board, b), aims: board.aims }),
  );
  const backs: number[][] = [];
  let costs = (columns[0] ?? []).map((choice) => choice.cost);
  for (let b = 1; b < columns.length; b += 1) {
    const before = columns[b - 1] ?? [];
    const pair = [board.bars[b - 1] as WeighedBar, board.bars[b] as WeighedBar] as const;
    const back: number[] = [];
    const next = (columns[b] ?? []).map((choice, k) => {
      let best = Number.POSITIVE_INFINITY;
      before.forEach((earlier, i) => {
        const cost = (costs[i] ?? 0) + joinCost(earlier, choice, pair);
        if (cost < best) {
          best = cost;
          back[k] = i;
        }
      });
      return best + choice.cost;
    });
    backs.push(back);
    costs = next;
  }
  let at = costs.indexOf(Math.min(...costs));
  const path: BarChoice[] = [];
  for (let b = columns.length - 1; b >= 0; b -= 1) {
    path.unshift(columns[b]?.[at] as BarChoice);
    at = backs[b - 1]?.[at] ?? 0;
  }
  return path;
};

/** Costs of every bar with one mask for each kind of cell, remembered by the masks. */
const judge = (board: Board): ((bar: number, chosen: readonly number[]) => BarChoice) => {
  const seen = board.bars.map(() => new Map<string, BarChoice>());
  const costOf = board.kinds.map((kind) => new Map(kind.options.map(({ mask, cost }) => [mask, cost])));
  return (b, chosen) => {
    const kinds = board.kindOf[b] ?? [];
    const masks = kinds.map((kind) => chosen[kind] ?? 0);
    const key = masks.join();
    const known = seen[b]?.get(key);
    if (known !== undefined) return known;
    const ownCosts = kinds.map((kind, c) => costOf[kind]?.get(masks[c] ?? 0) ?? 0);
    const given = { masks, ownCosts, aims: board.aims };
    const judged = judgeBar(board.bars[b] as WeighedBar, board.cells[b] ?? [], given);
    seen[b]?.set(key, judged);
    return judged;
  };
};

/** The mask that most members of each kind got on the path; the cheaper one when they are equally many. */
const majority = (board: Board, path: readonly BarChoice[]): number[] =>
  board.kinds.map((kind) => {
    const votes = new Map<number, number>();
    for (const { bar, cell } of kind.members) {
      const mask = path[bar]?.masks[cell] ?? 0;
      votes.set(mask, (votes.get(mask) ?? 0) + 1);
    }
    const most = Math.max(...votes.values());
    return kind.options.find(({ mask }) => votes.get(mask) === most)?.mask ?? kind.options[0]?.mask ?? 0;
  });

/** Goes over the kinds of cells until no change of one kind, in all its bars at once, makes the tune cheaper. */
const settle = (board: Board, start: readonly number[]): readonly number[] => {
  const chosen = [...start];
  const judged = judge(board);
  const around = board.kinds.map((kind) =>
    [...new Set(kind.members.map((m) => m.bar))].sort((a, b) => a - b),
  );
  const costAround = (bars: readonly number[]): number => {
    let cost = 0;
    for (const b of bars) {
      const here = judged(b, chosen);
      cost += here.cost;
      if (b > 0) cost += joinAt(b - 1, here, 'before');
      if (b + 1 < board.bars.length && !bars.includes(b + 1)) cost += joinAt(b, here, 'after');
    }
    return cost;
  };
  const joinAt = (b: number, here: BarChoice, side: 'before' | 'after'): number => {
    const pair = [board.bars[b] as WeighedBar, board.bars[b + 1] as WeighedBar] as const;
    return side === 'before'
      ? joinCost(judged(b, chosen), here, pair)
      : joinCost(here, judged(b + 1, chosen), pair);
  };
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    let changed = false;
    board.kinds.forEach((kind, k) => {
      if (kind.options.length < 2) return;
      const bars = around[k] ?? [];
      const before = chosen[k] ?? 0;
      let best = costAround(bars);
      let bestMask = before;
      for (const { mask } of kind.options) {
        if (mask === before) continue;
        chosen[k] = mask;
        const cost = costAround(bars);
        if (cost < best - 1e-9) {
          best = cost;
          bestMask = mask;
        }
      }
      chosen[k] = bestMask;
      if (bestMask !== before) changed = true;
    });
    if (!changed) break;
  }
  return chosen;
};

const flagsOf = (board: Board, chosen: readonly number[]): Kept =>
  board.bars.map((bar, b) => {
    const flags = bar.notes.map(() => false);
    (board.cells[b] ?? []).forEach((cell, c) => {
      const mask = chosen[board.kindOf[b]?.[c] ?? 0] ?? 0;
      cell.notes.forEach((_, i) => {
        flags[cell.first + i] = (mask & (1 << i)) !== 0;
      });
    });
    return flags;
  });

interface Peak {
  readonly kind: number;
  readonly bit: number;
  /** What keeping it costs its cell. */
  readonly price: number;
}

/** Parts whose highest note is left out everywhere: where it would be cheapest to keep it. */
const lostPeaks = (board: Board, chosen: readonly number[]): readonly Peak[] => {
  const found = new Map<string, { midi: number; kept: boolean; peaks: Peak[] }>();
  board.cells.forEach((inBar, b) => {
    inBar.forEach((cell, c) => {
      const kind = board.kindOf[b]?.[c] ?? 0;
      const part = board.bars[b]?.line.part ?? '';
      cell.notes.forEach((note, i) => {
        let entry = found.get(part);
        if (entry === undefined || note.midi > entry.midi) {
          entry = { midi: note.midi, kept: false, peaks: [] };
          found.set(part, entry);
        }
        if (note.midi < entry.midi) return;
        if (((chosen[kind] ?? 0) & (1 << i)) !== 0) entry.kept = true;
        const options = board.kinds[kind]?.options ?? [];
        const keeping = options.find(({ mask }) => (mask & (1 << i)) !== 0);
        if (keeping === undefined) return;
        entry.peaks.push({ kind, bit: 1 << i, price: keeping.cost - (options[0]?.cost ?? 0) });
      });
    });
  });
  return [...found.values()].flatMap(({ kept, peaks }) => {
    const cheapest = peaks.toSorted((a, b) => a.price - b.price)[0];
    return kept || cheapest === undefined ? [] : [cheapest];
  });
};

/** The board's choice with every part's highest note somewhere. */
const chosenOn = (board: Board): readonly number[] => {
  const chosen = settle(board, majority(board, cheapestPath(board)));
  const lost = lostPeaks(board, chosen);
  if (lost.length === 0) return chosen;
  const forced = [...chosen];
  for (const { kind, bit } of lost) {
    const own = board.kinds[kind];
    if (own === undefined) continue;
    own.options = own.options.filter(({ mask }) => (mask & bit) !== 0);
    forced[kind] = own.options[0]?.mask ?? 0;
  }
  return settle(board, forced);
};

/** The mean share of running-note places that the running bars fill; null where few bars run. */
const fillOf = (board: Board, kept: Kept): number | null => {
  const shares = board.bars.flatMap((bar, b) => {
    if (bar.line.bar.role !== 'full' || !isRunning(bar)) return [];
    const places = new Set(bar.notes.filter((_, i) => kept[b]?.[i] === true).map((n) => n.place));
    return [places.size / bar.places];
  });
  const full = board.bars.filter((bar) => bar.line.bar.role === 'full').length;
  const few = shares.length === 0 || shares.length < MOSTLY_RUNNING * full;
  return few ? null : shares.reduce((a, b) => a + b, 0) / shares.length;
};

const leavesAll = (kept: Kept): boolean => kept.every((flags) => flags.every(Boolean));

/**
 * Which notes of the plain version stay in the bones?
 *
 * Each cell's figures are weighed, equal cells share the mean of their costs, the cheapest path through all bars is
 * taken, and then each kind of equal cells gets the one figure that suits all its places best. A tune that comes out
 * fuller than its density on the whole, or just as it went in though it runs, is gone over with a lower aim.
 */
export const chooseKept = (bars: readonly WeighedBar[], aims: ChooseAims): Kept => {
  if (bars.length === 0) return [];
  const board = layOut(bars, aims);
  const most = MOST_FILL + FILL[aims.density];
  for (let time = 0; ; time += 1) {
    const shift = -AIM_STEP.by * time;
    const own = { ...board, aims: { ...board.aims, shift } };
    const kept = flagsOf(own, chosenOn(own));
    const fill = fillOf(own, kept);
    const untouched = FILL[aims.density] <= 0 && leavesAll(kept) && bars.some(isRunning);
    if (time === AIM_STEP.times || (!untouched && (fill === null || fill <= most))) return kept;
  }
};
