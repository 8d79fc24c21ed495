import type { Heard } from '../../src/listen/index.ts';
import type { Truth } from './performance.ts';

/** How well times or notes were found. */
export interface Found {
  readonly right: number;
  readonly wanted: number;
  readonly found: number;
}

/** The balance of found and right: 2·right ÷ (wanted + found). */
export const balanceOf = (all: readonly Found[]): number => {
  const sum = (of: (f: Found) => number): number => all.reduce((n, f) => n + of(f), 0);
  return (2 * sum((f) => f.right)) / Math.max(1, sum((f) => f.wanted) + sum((f) => f.found));
};

/** A begun pitch: what is compared. */
export interface Onset {
  readonly start: number;
  readonly midi: number;
}

/** Nearness that counts: seconds and semitones. Source: the tolerances usual in MIREX note tracking (50 ms, a quarter tone). */
const NEAR = { time: 0.05, pitch: 0.5 } as const;

/** Pairs each wanted onset with the nearest one found that is not taken. */
const pairsOf = (wanted: readonly Onset[], found: readonly Onset[]): readonly (readonly [Onset, Onset])[] => {
  const taken = new Set<Onset>();
  return wanted.flatMap((w) => {
    let best: Onset | undefined;
    for (const f of found) {
      if (taken.has(f) || Math.abs(f.midi - w.midi) >= NEAR.pitch) continue;
      const off = Math.abs(f.start - w.start);
      if (off <= NEAR.time && off < Math.abs((best?.start ?? Infinity) - w.start)) best = f;
    }
    if (best === undefined) return [];
    taken.add(best);
    return [[w, best] as const];
  });
};

/** How well onsets were found. */
export const comparedNotes = (wanted: readonly Onset[], found: readonly Onset[]): Found => ({
  right: pairsOf(wanted, found).length,
  wanted: wanted.length,
  found: found.length,
});

/** Flicks that were named, of those played; where one was named and none was, it counts as found. */
export const comparedFlicks = (truth: Truth, heard: Heard): Found => {
  const named = heard.notes.filter((n) => n.ornament !== undefined);
  const right = truth.flicks.filter((f) => named.some((n) => Math.abs(n.start - f.start) < NEAR.time)).length;
  return { right, wanted: truth.flicks.length, found: named.length };
};
/** How well moments (beats) were found. @param within - seconds that count as hit */
export const comparedTimes = (wanted: readonly number[], found: readonly number[], within: number): Found => {
  const left = [...found];
  let right = 0;
  for (const w of wanted) {
    const at = left.findIndex((f) => Math.abs(f - w) <= within);
    if (at < 0) continue;
    right += 1;
    left.splice(at, 1);
  }
  return { right, wanted: wanted.length, found: found.length };
};
