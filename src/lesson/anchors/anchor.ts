import { fingerprintOf, type Score } from '../../score/index.ts';
import { alignBars } from './alignment.ts';
import { type BarTable, barTableOf, type TableBar, tableBars } from './barTable.ts';

/** By what a bar is found again: what a person attaches to a bar carries one. */
export interface Anchor {
  /** Label of the part. */
  readonly part: string;
  /** Index of the bar among the part's written bars, pick-ups included, from 0. */
  readonly bar: number;
  /** Fingerprint of the plain bar. */
  readonly plain: string;
}

/**
 * Where an anchored thing belongs now.
 *
 * `same`: to the bar as it was, wherever that stands now. `changed`: to what stands in its place. `orphan`: its bar is gone.
 */
export type Found =
  | { readonly kind: 'same' | 'changed'; readonly anchor: Anchor }
  | { readonly kind: 'orphan' };

/** The anchor of a bar of the plain version; null where there is no such bar. */
export const anchorAt = (plain: Score, part: string, bar: number): Anchor | null => {
  const found = plain.parts.find((p) => p.label === part)?.bars[bar];
  return found === undefined ? null : { part, bar, plain: fingerprintOf(found) };
};

/** The anchor of a bar as `anchorAt` has it, also where there is no such bar: it is found nowhere then. */
export const anchorOf = (plain: Score, part: string, bar: number): Anchor =>
  anchorAt(plain, part, bar) ?? { part, bar, plain: '' };

const ORPHAN: Found = { kind: 'orphan' };

const foundAt = (anchor: Anchor, at: TableBar | undefined): Found =>
  at === undefined
    ? ORPHAN
    : {
        kind: at.fingerprint === anchor.plain ? 'same' : 'changed',
        anchor: { part: at.part, bar: at.bar, plain: at.fingerprint },
      };

/** The equal bar that is nearest: in the part of that name first, then by its place in the part. */
const nearestEqual = (anchor: Anchor, bars: readonly TableBar[]): TableBar | undefined => {
  const distance = (bar: TableBar): readonly [number, number] => [
    bar.part === anchor.part ? 0 : 1,
    Math.abs(bar.bar - anchor.bar),
  ];
  return bars
    .filter((bar) => bar.fingerprint === anchor.plain)
    .toSorted((a, b) => {
      const [[partA, placeA], [partB, placeB]] = [distance(a), distance(b)];
      return partA - partB || placeA - placeB;
    })[0];
};

/**
 * Finds anchored bars again after the tune has changed.
 *
 * An anchor that the old table does not bear out had lost its bar before: it takes an equal bar that is new, as when a
 * deleted bar comes back. Without a table any equal bar will do.
 * @param before - the bars when the anchors were made; null where nobody kept them
 * @param now - the bars as they are
 * @returns a function from an anchor to where it belongs now
 */
export const anchorFinder = (before: BarTable | null, now: BarTable): ((anchor: Anchor) => Found) => {
  const news = tableBars(now);
  const olds = before === null ? [] : tableBars(before);
  const became = alignBars(olds, news);
  const known = new Set(became);
  const fresh = news.filter((_, n) => !known.has(n));
  const placeOf = new Map(olds.map(({ part, bar }, o) => [`${part}/${bar}`, o]));
  return (anchor) => {
    const o = placeOf.get(`${anchor.part}/${anchor.bar}`);
    if (o === undefined || olds[o]?.fingerprint !== anchor.plain)
      return foundAt(anchor, nearestEqual(anchor, fresh));
    return foundAt(anchor, news[became[o] ?? -1]);
  };
};

/** The same thing with its anchor as it is now; an orphan keeps the anchor that it had. */
export const reAnchored = <T extends { readonly anchor: Anchor }>(thing: T, found: Found): T =>
  found.kind === 'orphan' ? thing : { ...thing, anchor: found.anchor };

/**
 * Small things that are attached to bars as they sound, where their bars are now.
 *
 * One whose bar has changed or is gone keeps the anchor that it had, and comes back with its bar.
 * @param before - the bars when they were attached; null where nobody wrote them down
 */
export const anchoredNow = <T extends { readonly anchor: Anchor }>(
  things: readonly T[],
  before: BarTable | null,
  plain: Score,
): readonly T[] => {
  const findBar = anchorFinder(before, barTableOf(plain));
  return things.map((thing) => {
    const found = findBar(thing.anchor);
    return found.kind === 'same' ? { ...thing, anchor: found.anchor } : thing;
  });
};

/** Whether the bar of an anchor sounds as it did when something was attached to it. */
export const isAsItWas = ({ part, bar, plain }: Anchor, score: Score): boolean =>
  anchorAt(score, part, bar)?.plain === plain;
