import { fingerprintOf, type Score } from '../../score/index.ts';

/**
 * What the plain bars of a tune sounded like when something was last attached to one of them.
 *
 * The lesson file keeps it, so that bars are found again when the tune's text has been changed elsewhere meanwhile.
 */
export type BarTable = readonly PartBars[];

/** One part of a bar table. */
export interface PartBars {
  /** The part's label. */
  readonly part: string;
  /** Fingerprints of its written bars, pick-ups included, in order. */
  readonly bars: readonly string[];
}

/** The bar table of a plain version. */
export const barTableOf = (plain: Score): BarTable =>
  plain.parts.map(({ label, bars }) => ({ part: label, bars: bars.map(fingerprintOf) }));

/** A bar of a table and where it stands. */
export interface TableBar {
  readonly part: string;
  /** Index in its part. */
  readonly bar: number;
  readonly fingerprint: string;
}

/** The bars of a table in written order. */
export const tableBars = (table: BarTable): readonly TableBar[] =>
  table.flatMap(({ part, bars }) => bars.map((fingerprint, bar) => ({ part, bar, fingerprint })));
