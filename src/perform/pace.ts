import { add, compare, type Rational, toNumber, ZERO } from '../core/index.ts';
import type { Bar, Score, Tempo } from '../score/index.ts';
import { FERMATA, PACE_RANGE } from './data.ts';
import type { LaidBar, Layout } from './layout.ts';
import type { Performance } from './settings.ts';

/** From a place in score time on it goes at this pace. */
export interface Pace {
  readonly at: Rational;
  /** What the dance is felt at. */
  readonly beatsPerMinute: number;
  /** Time stands still: everything lasts so many times as long; 1 is in time. */
  readonly hold: number;
}

/** Whole notes a minute; null where the tempo is words alone. */
const speedOf = (tempo: Tempo | null): number | null =>
  tempo?.beat == null || tempo.beatsPerMinute === null ? null : tempo.beatsPerMinute * toNumber(tempo.beat);

/**
 * How much faster or slower than its beginning the tune is marked in each bar (`Q:` inside the tune), 1 where nothing
 * is said. Bars hold the last tempo written before them, whichever way they are reached.
 */
const markedPaces = (score: Score): ReadonlyMap<Bar, number> => {
  const bars = score.parts.flatMap((part) => part.bars);
  const spoken = bars.map((bar) => speedOf(bar.tempo)).filter((speed) => speed !== null);
  const base = speedOf(score.tempo) ?? spoken[0];
  const paces = new Map<Bar, number>();
  if (base === undefined || spoken.length === 0) return paces;
  let pace = 1;
  for (const bar of bars) {
    const speed = speedOf(bar.tempo);
    if (speed !== null) pace = Math.min(PACE_RANGE.most, Math.max(PACE_RANGE.least, speed / base));
    paces.set(bar, pace);
  }
  return paces;
};

/** Where notes are held beyond their length. At the end of a part only the last time that the bar is played. */
const holdsIn = (layout: Layout): readonly (readonly [from: Rational, to: Rational])[] => {
  const lastTime = new Map(layout.bars.map((bar) => [bar.bar, bar] as const));
  const endsPart = (bar: LaidBar, i: number): boolean => {
    const next = layout.bars[i + 1];
    return next === undefined || next.jumped || next.part !== bar.part || next.bar.role === 'pickup';
  };
  return layout.bars.flatMap((bar, i) =>
    endsPart(bar, i) && lastTime.get(bar.bar) !== bar
      ? []
      : bar.events
          .filter(({ event }) => event.marks.includes('fermata'))
          .map(({ onset, length }) => {
            const from = add(bar.start, onset);
            return [from, add(from, length)] as const;
          }),
  );
};

/** Score time at which each time through reaches its first beat after the pick-up. */
const downbeatsOf = (layout: Layout): readonly Rational[] => {
  const found: Rational[] = [];
  for (const bar of layout.bars)
    if (found.length === bar.time && compare(bar.offset, ZERO) === 0) found.push(bar.start);
  return found;
};

/**
 * How fast does it go, from the first click to the end?
 *
 * Three things change the pace: the times through have tempi of their own, from their first beat on; the tune's own
 * tempi (`Q:` inside it) make bars faster or slower in the same measure; and at a fermata everybody waits.
 * @param start - score time of the first click or note
 * @returns in order, the first at `start`
 */
export const pacesOf = (score: Score, layout: Layout, how: Performance, start: Rational): readonly Pace[] => {
  const marked = markedPaces(score);
  const downbeats = downbeatsOf(layout);
  const holds = holdsIn(layout);
  const moments = [ZERO, ...layout.bars.map((bar) => bar.start), ...downbeats, ...holds.flat()].filter(
    (at) => compare(at, start) > 0,
  );
  const paces: Pace[] = [];
  let bar = 0;
  let time = 0;
  let hold = 0;
  for (const at of [start, ...moments.toSorted(compare)]) {
    while (compare(layout.bars[bar + 1]?.start ?? at, at) <= 0 && bar < layout.bars.length - 1) bar += 1;
    while (compare(downbeats[time + 1] ?? at, at) <= 0 && time < downbeats.length - 1) time += 1;
    while (compare(holds[hold]?.[1] ?? at, at) <= 0 && hold < holds.length) hold += 1;
    const held = compare(holds[hold]?.[0] ?? at, at) <= 0 && hold < holds.length && compare(at, ZERO) >= 0;
    const factor = marked.get(layout.bars[bar]?.bar as Bar) ?? 1;
    const pace = {
      at,
      beatsPerMinute: (how.tempos[time] ?? how.tempos[0]) * factor,
      hold: held ? FERMATA : 1,
    };
    const before = paces.at(-1);
    if (before === undefined || before.beatsPerMinute !== pace.beatsPerMinute || before.hold !== pace.hold)
      paces.push(pace);
  }
  return paces;
};
