import { type Cells, cellsOf, type DraftNote, merged, sameCell } from './draftCells.ts';
import type { HeardNote } from './hear.ts';
import type { PlayedBar } from './playedBars.ts';

/** A bar of a draft. */
export interface DraftBar {
  readonly notes: readonly DraftNote[];
  readonly quavers: number;
  /** The passes disagree. */
  readonly unsure: boolean;
  /** Within its part; bars of a second ending have the numbers of the first. */
  readonly number: number;
  /** The ending that it belongs to. */
  readonly ending: 1 | 2 | null;
}

/** What the bars of a draft are made from. */
export interface PassesSource {
  readonly bars: readonly PlayedBar[];
  readonly heard: readonly HeardNote[];
  /** Of the metre as written. */
  readonly unit: number;
  readonly swing: number;
}

/** One bar of a part as each of some passes played it. */
interface Passes {
  readonly number: number;
  readonly quavers: number;
  readonly all: readonly Cells[];
  readonly first: readonly Cells[];
  readonly second: readonly Cells[];
}

const barFrom = ({ number, quavers }: Passes, passes: readonly Cells[], ending: 1 | 2 | null): DraftBar => {
  const { cells, unsure } = merged(passes);
  return { notes: cells.flat(), quavers, unsure, number, ending };
};

/**
 * Cells in which first and second times must differ, so that a part has two endings: fewer may be slips of listening. Where
 * each was played once only, more. Ours.
 */
const LEAST_DIFFERENT = { often: 2, once: 3 } as const;

const differentCells = ({ first, second }: Passes): number => {
  const [one, other] = [merged(first).cells, merged(second).cells];
  return one.filter((cell, c) => !sameCell(cell, other[c] ?? [])).length;
};

/** Where the endings begin: the first bar of the second half from which first and second times differ; null without endings. */
const endingsFrom = (bars: readonly Passes[]): number | null => {
  if (bars.length === 0 || bars.some(({ first, second }) => first.length === 0 || second.length === 0))
    return null;
  const different = bars.map(differentCells);
  const half = bars.length >> 1;
  const from = different.findIndex((count, i) => i >= half && count > 1);
  if (from === -1) return null;
  const often = bars.every(({ first, second }) => first.length > 1 && second.length > 1);
  const sum = different.slice(from).reduce((a, b) => a + b, 0);
  return sum >= (often ? LEAST_DIFFERENT.often : LEAST_DIFFERENT.once) ? from : null;
};

/**
 * The bars of a part, its passes merged by vote.
 * @param doubled - each time the part comes it is played twice: what ends otherwise the second time has two endings
 */
export const draftBars = (source: PassesSource, part: string, doubled: boolean): readonly DraftBar[] => {
  const compound = source.unit === 8;
  const mine = source.bars.filter((b) => b.part === part && b.number !== null);
  const numbers = [...new Set(mine.flatMap((b) => b.number ?? []))].sort((a, b) => a - b);
  const bars = numbers.map((number): Passes => {
    const passes = mine
      .filter((b) => b.number === number)
      .map((b) => ({
        pass: b.pass,
        cells: cellsOf(b, source.heard, { swing: source.swing, cell: compound ? 1 : 2 }),
      }));
    const of = (time: number): readonly Cells[] =>
      passes.filter(({ pass }) => pass % 2 === time).map(({ cells }) => cells);
    return {
      number,
      quavers: mine.find((b) => b.number === number)?.quavers ?? 8,
      all: passes.map(({ cells }) => cells),
      first: of(0),
      second: of(1),
    };
  });
  const from = doubled ? endingsFrom(bars) : null;
  if (from === null) return bars.map((bar) => barFrom(bar, bar.all, null));
  const endings = bars.slice(from);
  return [
    ...bars.slice(0, from).map((bar) => barFrom(bar, bar.all, null)),
    ...endings.map((bar) => barFrom(bar, bar.first, 1)),
    ...endings.map((bar) => barFrom(bar, bar.second, 2)),
  ];
};
