import { type BarChoice, barChoices, isRunning, joinCost, judgeBar } from './bars.ts';
import { type Board, type CellKind, optionsOf } from './board.ts';
import { MOST_ROUNDS, WIDTH } from './data.ts';
import type { WeighedBar } from './weigh.ts';

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

/** Cells and bits of a mask that four masks in one safe number leave room for. */
const PACKED = { cells: 4, size: 4096 } as const;

/** One key for a bar's masks: a number where they fit into one, as nearly always. */
const masksKey = (kinds: readonly number[], chosen: readonly number[]): number | string => {
  let key = 0;
  for (const kind of kinds) {
    const mask = chosen[kind] ?? 0;
    if (kinds.length > PACKED.cells || mask >= PACKED.size) return kinds.map((k) => chosen[k] ?? 0).join();
    key = key * PACKED.size + mask;
  }
  return key;
};

/** Costs of every bar with one mask for each kind of cell, remembered by the masks. */
const judge = (board: Board): ((bar: number, chosen: readonly number[]) => BarChoice) => {
  const seen = board.bars.map(() => new Map<number | string, BarChoice>());
  const costOf = board.kinds.map((kind) => new Map(kind.options.map(({ mask, cost }) => [mask, cost])));
  return (b, chosen) => {
    const kinds = board.kindOf[b] ?? [];
    const key = masksKey(kinds, chosen);
    const known = seen[b]?.get(key);
    if (known !== undefined) return known;
    const masks = kinds.map((kind) => chosen[kind] ?? 0);
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

/** The bars that hold a cell of a kind, in order. */
const barsOfKind = (kind: CellKind): readonly number[] =>
  [...new Set(kind.members.map((m) => m.bar))].sort((a, b) => a - b);

/** What some bars cost under a choice, with the ways into and out of them. */
type CostAround = (bars: readonly number[], chosen: readonly number[]) => number;

const costAroundOn = (board: Board): CostAround => {
  const judged = judge(board);
  const joinAt = (b: number, chosen: readonly number[]): number => {
    const pair = [board.bars[b] as WeighedBar, board.bars[b + 1] as WeighedBar] as const;
    return joinCost(judged(b, chosen), judged(b + 1, chosen), pair);
  };
  return (bars, chosen) => {
    let cost = 0;
    for (const b of bars) {
      cost += judged(b, chosen).cost;
      if (b > 0) cost += joinAt(b - 1, chosen);
      if (b + 1 < board.bars.length && !bars.includes(b + 1)) cost += joinAt(b, chosen);
    }
    return cost;
  };
};

/** Goes over the kinds of cells until no change of one kind, in all its bars at once, makes the tune cheaper. */
const settle = (board: Board, start: readonly number[]): readonly number[] => {
  const chosen = [...start];
  const costAround = costAroundOn(board);
  const around = board.kinds.map(barsOfKind);
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    let changed = false;
    board.kinds.forEach((kind, k) => {
      if (kind.options.length < 2) return;
      const bars = around[k] ?? [];
      const before = chosen[k] ?? 0;
      let best = costAround(bars, chosen);
      let bestMask = before;
      for (const { mask } of kind.options.slice(0, WIDTH.cell)) {
        if (mask === before) continue;
        chosen[k] = mask;
        const cost = costAround(bars, chosen);
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

/**
 * A choice with one more kind of cell thinned, in all its bars at once, where that costs the tune least.
 *
 * For a tune that runs and would not let go of a note. Only kinds that stand in a running bar are asked, and the hook
 * only where nothing else runs. What stands
 * around it then settles anew, so that one note less does not leave the bow the wrong way round.
 */
export const withOneLess = (board: Board, chosen: readonly number[]): readonly number[] => {
  const costAround = costAroundOn(board);
  const isAsked = (b: number): boolean => isRunning(board.bars[b] as WeighedBar);
  const isInHook = (b: number): boolean => board.bars[b]?.hook === true;
  const asked = [...board.kinds.entries()].filter(([, kind]) => barsOfKind(kind).some(isAsked));
  const beyond = asked.filter(([, kind]) => !barsOfKind(kind).some(isInHook));
  let best: { readonly kind: CellKind; readonly thinner: readonly number[]; readonly mask: number } | null =
    null;
  let least = Number.POSITIVE_INFINITY;
  for (const [k, kind] of beyond.length > 0 ? beyond : asked) {
    const bars = barsOfKind(kind);
    const before = costAround(bars, chosen);
    for (const { mask } of kind.options) {
      if (mask === chosen[k]) continue;
      const thinner = chosen.with(k, mask);
      const price = costAround(bars, thinner) - before;
      if (price >= least) continue;
      least = price;
      best = { kind, thinner, mask: chosen[k] ?? 0 };
    }
  }
  if (best === null) return chosen;
  const { kind, thinner, mask } = best;
  kind.options = kind.options.filter((option) => option.mask !== mask);
  return settle(board, thinner);
};

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

/**
 * The board's choice: the path settled, with every part's highest note somewhere.
 * @param before - a choice under other aims to start from instead of the path
 */
export const chosenOn = (board: Board, before: readonly number[] | null): readonly number[] => {
  const chosen = settle(board, before ?? majority(board, cheapestPath(board)));
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
