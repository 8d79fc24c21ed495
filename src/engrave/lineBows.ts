import {
  addressKey,
  type Bar,
  type Bow,
  barsOf,
  type Event,
  placedEvents,
  type Score,
} from '../score/index.ts';
import type { SheetVersion } from './sheetPlan.ts';
import type { SystemRange } from './systems.ts';

const withFirstBow = (bar: Bar, bow: Bow | undefined): Bar => {
  if (bow === undefined) return bar;
  const first = bar.events.findIndex((e) => e.kind === 'note');
  const events = bar.events.map(
    (event, i): Event => (i === first && event.kind === 'note' ? { ...event, bow: event.bow ?? bow } : event),
  );
  return { ...bar, events };
};

/**
 * The version's score with the bow's direction on the first stroke of each line, where the sheet marks bows.
 *
 * A line that a slur or tie leads into begins with no stroke and bears none.
 */
export const withLineBows = ({ score, hands }: SheetVersion, ranges: readonly SystemRange[]): Score => {
  if (hands === undefined || hands.bows.size === 0) return score;
  const bars = barsOf(score);
  const starts = new Set(ranges.map((range) => range.from));
  const bowed = bars.map(({ bar, part, index }, i) => {
    const first = starts.has(i) ? placedEvents(bar).find((p) => p.event.kind === 'note') : undefined;
    if (first === undefined) return bar;
    return withFirstBow(bar, hands.bows.get(addressKey({ part, bar: index, onset: first.onset })));
  });
  let at = 0;
  const parts = score.parts.map((part) => {
    const own = bowed.slice(at, at + part.bars.length);
    at += part.bars.length;
    return { ...part, bars: own };
  });
  return { ...score, parts };
};
