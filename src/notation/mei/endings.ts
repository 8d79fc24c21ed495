import type { Bar } from '../../score/index.ts';

/** An ending: bars `from` to `to` inclusive, played in those passes. */
export interface Ending {
  readonly from: number;
  readonly to: number;
  readonly passes: readonly number[];
}

const stops = (bar: Bar): boolean =>
  bar.repeatEnd > 0 || bar.line === 'double' || bar.line === 'final' || bar.line === 'heavyDouble';

/**
 * The endings of a run of bars, in order: each goes on to the next ending, to a repeat or double bar, or to a repeat
 * that starts after it.
 */
export const endingsOf = (bars: readonly Bar[]): readonly Ending[] =>
  bars.flatMap((bar, from): Ending[] => {
    if (bar.ending === null) return [];
    let to = from;
    while (to + 1 < bars.length) {
      const [here, next] = [bars[to], bars[to + 1]];
      if (here === undefined || next === undefined || stops(here)) break;
      if (next.ending !== null || next.repeatStart > 0) break;
      to += 1;
    }
    return [{ from, to, passes: bar.ending }];
  });

/** "1.", "1. 3.": how an ending is labelled. Common practice. */
export const endingLabel = (passes: readonly number[]): string => passes.map((p) => `${p}.`).join(' ');
