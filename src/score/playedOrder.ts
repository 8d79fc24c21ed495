import type { Bar, Score } from './score.ts';
import { barsOf, type PlacedBar } from './walk.ts';

/** A written bar as it comes in playing. */
export interface PlayedBar {
  readonly part: string;
  /** Index in the part's written bars. */
  readonly bar: number;
  /** How often this bar has been played before, from 0. */
  readonly pass: number;
}

/** A tune whose repeats unfold to more bars than this is refused: the text is a trap or a slip. Ours. */
export const MOST_PLAYED_BARS = 20_000;

/**
 * The bars in the order in which one time through plays them: repeats and endings unfolded, parts in the order of `P:`.
 *
 * A repeat end without a start returns to the last repeat end or double bar, or to the beginning (ABC standard 2.1,
 * section 4.8). With a part order, each part is played by its own repeats each time it is named; "AAB" beside a part A
 * that is printed with a repeat names the repeat once more and adds none.
 * @throws RangeError when more than `MOST_PLAYED_BARS` bars would be played
 */
export const playedOrder = (score: Score): readonly PlayedBar[] => {
  const all = barsOf(score);
  const counts = new Map<string, number>();
  const order: PlayedBar[] = [];
  for (const placed of playedBars(score, all)) {
    if (order.length >= MOST_PLAYED_BARS)
      throw new RangeError(`more than ${MOST_PLAYED_BARS} bars as played`);
    const key = `${placed.part}/${placed.index}`;
    const pass = counts.get(key) ?? 0;
    counts.set(key, pass + 1);
    order.push({ part: placed.part, bar: placed.index, pass });
  }
  return order;
};

function* playedBars(score: Score, all: readonly PlacedBar[]): Generator<PlacedBar> {
  const runs = runsOf(score.partOrder ?? []).flatMap(({ label, times }) => {
    const bars = all.filter((b) => b.part === label);
    return bars.length === 0 ? [] : [{ bars, times }];
  });
  if (runs.length === 0) yield* unfolded(all);
  for (const { bars, times } of runs) {
    const once = unfolded(bars);
    const ownTimes = once.filter((b) => b === once[0]).length;
    // "AA" for a part printed with a repeat is that repeat; "A" alone, or a number that does not go up, adds to it.
    const rounds = times % ownTimes === 0 ? times / ownTimes : times;
    for (let n = 0; n < rounds; n += 1) yield* once;
  }
}

/** Equal neighbours of a part order put together: "AAB" is A two times, B once. */
const runsOf = (order: readonly string[]): readonly { readonly label: string; readonly times: number }[] => {
  const runs: { readonly label: string; times: number }[] = [];
  for (const label of order) {
    const last = runs.at(-1);
    if (last?.label === label) last.times += 1;
    else runs.push({ label, times: 1 });
  }
  return runs;
};

const stopsSection = (bar: Bar): boolean =>
  bar.repeatEnd > 0 || bar.line === 'double' || bar.line === 'final' || bar.line === 'heavyDouble';

/** A repeated stretch of bars: from `start` to `end` inclusive, `times` times, endings from `firstEnding` on. */
interface Section {
  readonly start: number;
  readonly end: number;
  readonly times: number;
}

/** Where a run of endings that begins at `at` stops: the last ending runs to a section stop or the next repeat start. */
const lastEndingStop = (bars: readonly PlacedBar[], at: number): number => {
  let end = at;
  for (let i = at; i < bars.length; i += 1) {
    end = i;
    const next = bars[i + 1]?.bar;
    const bar = bars[i]?.bar;
    if (bar === undefined || next === undefined) break;
    if (stopsSection(bar) && next.ending === null) break;
    if (next.repeatStart > 0 && next.ending === null) break;
  }
  return end;
};

const sectionFrom = (bars: readonly PlacedBar[], start: number): Section => {
  let passes = 1;
  const repeatEnd = startedRepeatEnd(bars, start);
  for (let i = start; i < bars.length; i += 1) {
    const bar = bars[i]?.bar;
    if (bar === undefined) break;
    const next = bars[i + 1]?.bar;
    if (bar.ending !== null) {
      const end = lastEndingStop(bars, i);
      for (let k = i; k <= end; k += 1) {
        const inside = bars[k]?.bar;
        passes = Math.max(passes, ...(inside?.ending ?? []), (inside?.repeatEnd ?? 0) + 1);
      }
      return { start, end, times: passes };
    }
    if (bar.repeatEnd > 0 && next?.ending == null) return { start, end: i, times: bar.repeatEnd + 1 };
    if (next === undefined || next.repeatStart > 0) return { start, end: i, times: 1 };
    if (stopsSection(bar) && bar.repeatEnd === 0 && repeatEnd <= i) return { start, end: i, times: 1 };
  }
  return { start, end: bars.length - 1, times: 1 };
};

/** Where the repeat ends that was explicitly started at `start`: double bars before it do not end the section. −1 without one. */
const startedRepeatEnd = (bars: readonly PlacedBar[], start: number): number => {
  if ((bars[start]?.bar.repeatStart ?? 0) === 0) return -1;
  for (let i = start; i < bars.length; i += 1) {
    const bar = bars[i]?.bar;
    if (bar === undefined || (i > start && bar.repeatStart > 0)) return -1;
    if (bar.repeatEnd > 0) return i;
  }
  return -1;
};

const unfolded = (bars: readonly PlacedBar[]): readonly PlacedBar[] => {
  const result: PlacedBar[] = [];
  for (let start = 0; start < bars.length; ) {
    const section = sectionFrom(bars, start);
    for (let pass = 1; pass <= section.times; pass += 1) {
      result.push(...passOf(bars, section, pass));
      if (result.length > MOST_PLAYED_BARS)
        throw new RangeError(`more than ${MOST_PLAYED_BARS} bars as played`);
    }
    start = section.end + 1;
  }
  return result;
};

/** The bars of one pass: an ending that is not for this pass is left out. */
const passOf = (bars: readonly PlacedBar[], section: Section, pass: number): readonly PlacedBar[] => {
  const result: PlacedBar[] = [];
  let skipping = false;
  for (let i = section.start; i <= section.end; i += 1) {
    const placed = bars[i];
    if (placed === undefined) break;
    if (placed.bar.ending !== null) skipping = !placed.bar.ending.includes(pass);
    if (!skipping) result.push(placed);
  }
  return result;
};
