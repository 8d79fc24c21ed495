import { isHarsh } from '../music/index.ts';
import { type Event, fingerprintOf, type Score } from '../score/index.ts';
import { asksForEven, type BarChoice, barChoices, joinCost, judgeBar } from './bars.ts';
import { type Board, flagsIn, layOut, optionsOf } from './board.ts';
import { type BonesSettings, countedFor, type Prepared, prepare } from './bones.ts';
import type { Cell, CellChoice } from './cells.ts';
import {
  type ChoiceReason,
  type Flags,
  keepsOnlyBeats,
  keepsTop,
  reasonsFor,
  strokesIn,
} from './choiceFacts.ts';
import { CHOICES } from './data.ts';
import { lineOf } from './line.ts';
import { thinnedBar } from './thin.ts';
import type { WeighedBar } from './weigh.ts';

/** A bar of bones that a teacher may choose, and why. */
export interface BonesChoice {
  readonly events: readonly Event[];
  /** The main one first. */
  readonly reasons: readonly ChoiceReason[];
}

/** What there is to choose from for one bar. */
export interface ChoicesOfBar {
  readonly part: string;
  /** Index among the part's written bars. */
  readonly bar: number;
  /** The derived bar first, the others by what they cost; equal bars have the same list. */
  readonly choices: readonly BonesChoice[];
}

/** One way to thin a bar. */
interface Trial {
  readonly flags: Flags;
  readonly cost: number;
}

/** The choice under way: the board, what was derived, and how that was judged. */
interface Table {
  readonly prepared: Prepared;
  readonly board: Board;
  readonly derived: readonly Flags[];
  readonly judged: readonly BarChoice[];
}

/** Bars of the plain version that have the same notes, joins and derived bones. */
type Likes = readonly [number, ...number[]];

/** Which notes of the plain version the derived bones strike. */
const derivedFlags = ({ line }: Prepared, bones: Score): readonly Flags[] => {
  const { ticks, bars } = lineOf(bones);
  return line.bars.map((bar, b) => {
    const struck = new Set(bars[b]?.notes.map(({ at }) => (at * line.ticks) / ticks));
    return bar.notes.map(({ at }) => struck.has(at));
  });
};

const masksOf = (cells: readonly Cell[], flags: Flags): readonly number[] =>
  cells.map((cell) =>
    cell.notes.reduce((mask, _, i) => (flags[cell.first + i] === true ? mask | (1 << i) : mask), 0),
  );

const judgedOn = (board: Board, b: number, masks: readonly number[]): BarChoice => {
  const options = optionsOf(board, b);
  const ownCosts = masks.map((mask, c) => options[c]?.find((o) => o.mask === mask)?.cost ?? 0);
  return judgeBar(board.bars[b] as WeighedBar, board.cells[b] ?? [], { masks, ownCosts, aims: board.aims });
};

/** The ways to thin a cell that are tried: the cheapest, all of it, and its beats alone. */
const triedIn = (cell: Cell, options: readonly CellChoice[], most: number): readonly CellChoice[] => {
  const full = (1 << cell.notes.length) - 1;
  const beats = cell.notes.reduce(
    (mask, note, i) => (note.onBeat || note.forced ? mask | (1 << i) : mask),
    0,
  );
  const extra = options.slice(most).filter(({ mask }) => mask === full || mask === beats);
  return [...options.slice(0, most), ...extra];
};

/** Masks of a whole bar that are tried, with the cells' own costs. */
const triedOn = (board: Board, b: number): readonly BarChoice[] => {
  const bar = board.bars[b] as WeighedBar;
  const cells = board.cells[b] ?? [];
  const options = optionsOf(board, b);
  if (cells.length > CHOICES.mostCells) return barChoices(bar, cells, { options, aims: board.aims });
  const most = CHOICES.triedOf[cells.length] ?? 2;
  let grown: readonly { readonly masks: readonly number[]; readonly ownCosts: readonly number[] }[] = [
    { masks: [], ownCosts: [] },
  ];
  cells.forEach((cell, c) => {
    const tried = triedIn(cell, options[c] ?? [], most);
    grown = grown.flatMap(({ masks, ownCosts }) =>
      tried.map(({ mask, cost }) => ({ masks: [...masks, mask], ownCosts: [...ownCosts, cost] })),
    );
  });
  return grown.map((given) => judgeBar(bar, cells, { ...given, aims: board.aims }));
};

/** Whether a held note would clash with one that the plain version strikes on a pulse. */
const clashes = ({ notes, line }: WeighedBar, flags: Flags): boolean => {
  let held = line.carried?.note ?? null;
  return notes.some((note, i) => {
    if (flags[i] === true) {
      held = note.line.note;
      return false;
    }
    return note.onPulse && held !== null && isHarsh(held.pitches[0], note.line.note.pitches[0]);
  });
};

/** Whether a bar can be offered: no clash, every beat that the derived bar has, not one long note for a whole bar. */
const isSound = (bar: WeighedBar, flags: Flags, derived: Flags): boolean =>
  (strokesIn(flags) > 1 || strokesIn(derived) <= 1) &&
  bar.notes.every((note, i) => flags[i] === true || derived[i] !== true || !note.onBeat) &&
  !clashes(bar, flags);

/** What it costs to come into a bar and to leave it, the neighbours as derived; the mean over equal bars. */
const meanJoin = (table: Table, likes: Likes, choice: BarChoice): number => {
  const { bars } = table.board;
  const own = bars[likes[0]] as WeighedBar;
  const placeIn = (bar: WeighedBar, note: BarChoice['first']): BarChoice['first'] =>
    note === null ? null : (bar.notes[own.notes.indexOf(note)] ?? null);
  const total = likes.reduce((sum, b) => {
    const here = bars[b] as WeighedBar;
    const as = { ...choice, first: placeIn(here, choice.first), last: placeIn(here, choice.last) };
    const [before, after] = [bars[b - 1], bars[b + 1]];
    const [earlier, later] = [table.judged[b - 1], table.judged[b + 1]];
    const into = before && earlier ? joinCost(earlier, as, [before, here]) : 0;
    return sum + into + (after && later ? joinCost(as, later, [here, after]) : 0);
  }, 0);
  return total / likes.length;
};

const sameFlags = (a: Flags, b: Flags): boolean => a.every((flag, i) => flag === b[i]);

/** What a teacher may want instead of the derived bar, in the order of how much it is wanted. */
const wishesFor = (bar: WeighedBar, derived: Flags): readonly ((flags: Flags) => boolean)[] => {
  const usual = strokesIn(derived);
  const isOdd = asksForEven(bar) && usual % 2 === 1;
  return [
    (flags) => isOdd && strokesIn(flags) % 2 === 0,
    (flags) => !keepsTop(bar, derived) && keepsTop(bar, flags),
    (flags) => strokesIn(flags) > usual,
    (flags) => strokesIn(flags) < usual,
    (flags) => strokesIn(flags) === usual,
    (flags) => keepsOnlyBeats(bar, flags),
    (flags) => strokesIn(flags) > usual + 1,
    () => true,
  ];
};

/** The best bars that differ: for each wish the cheapest that is left. */
const pickFrom = (bar: WeighedBar, derived: Flags, trials: readonly Trial[]): readonly Trial[] => {
  const picked: Trial[] = [];
  for (const wish of wishesFor(bar, derived)) {
    if (picked.length === CHOICES.most - 1) break;
    const found = trials.find(({ flags }) => wish(flags) && !picked.some((p) => sameFlags(p.flags, flags)));
    if (found !== undefined) picked.push(found);
  }
  return picked.toSorted((a, b) => a.cost - b.cost);
};

const choicesFor = (table: Table, likes: Likes): readonly BonesChoice[] => {
  const { board, prepared } = table;
  const [b] = likes;
  const bar = board.bars[b] as WeighedBar;
  const derived = table.derived[b] ?? [];
  const cells = board.cells[b] ?? [];
  const trials = triedOn(board, b)
    .map((judged) => ({ judged, flags: flagsIn(cells, judged.masks) }))
    .filter(({ flags }) => !sameFlags(flags, derived) && isSound(bar, flags, derived))
    .map(({ judged, flags }): Trial => ({ flags, cost: judged.cost + meanJoin(table, likes, judged) }))
    .sort((x, y) => x.cost - y.cost);
  const { group } = prepared.gridFor(bar.line);
  const eventsOf = (flags: Flags): readonly Event[] =>
    thinnedBar(bar.line, flags, { group, ticks: prepared.line.ticks }).events;
  return [derived, ...pickFrom(bar, derived, trials).map(({ flags }) => flags)].map((flags) => ({
    events: eventsOf(flags),
    reasons: reasonsFor(bar, flags, derived),
  }));
};

const likeness = (table: Table, b: number): string => {
  const bar = table.board.bars[b] as WeighedBar;
  const keys = (table.board.cells[b] ?? []).map(({ key }) => key).join('|');
  return `${bar.line.bar.role} ${fingerprintOf(bar.line.bar)} ${keys} ${table.derived[b]?.join() ?? ''}`;
};

/**
 * The best three to five different bars of bones for every bar of a tune, each with reasons.
 *
 * They come from the costs that the derived bones come from, with the neighbours as derived, and obey the same laws:
 * onsets and pitches of the plain version, full bars, no clash on a beat. A bar that leaves no choice has fewer.
 * @param plain - the plain version
 * @param bones - what `bonesOf` made of it with the same settings
 */
export const bonesChoicesOf = (
  plain: Score,
  bones: Score,
  settings: BonesSettings = { density: 'usual' },
): readonly ChoicesOfBar[] => {
  const prepared = prepare(plain);
  const { density } = settings;
  const board = layOut(prepared.weighed(countedFor(density)), { ...prepared.aims, density });
  const derived = derivedFlags(prepared, bones);
  const judged = board.bars.map((_, b) =>
    judgedOn(board, b, masksOf(board.cells[b] ?? [], derived[b] ?? [])),
  );
  const table: Table = { prepared, board, derived, judged };
  const groups = new Map<string, [number, ...number[]]>();
  board.bars.forEach((_, b) => {
    const key = likeness(table, b);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [b]);
    else group.push(b);
  });
  const result: ChoicesOfBar[] = [];
  for (const likes of groups.values()) {
    const choices = choicesFor(table, likes);
    for (const b of likes) {
      const { part, index } = (board.bars[b] as WeighedBar).line;
      result[b] = { part, bar: index, choices };
    }
  }
  return result;
};
