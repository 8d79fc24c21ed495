import { formatRational, type WholeNotes } from '../core/index.ts';

/** A place in one version of a tune: bones and plain of the same tune share addresses. */
export interface Address {
  /** Part label ("A"). */
  readonly part: string;
  /** Index of the bar among the part's written bars, pick-ups included, from 0. */
  readonly bar: number;
  /** Score time from the start of the bar. */
  readonly onset: WholeNotes;
  /** Index in the note's grace notes, where it is one of these. */
  readonly grace?: number;
  /** Index in the note's pitches, where it is not the first (the melody). */
  readonly tone?: number;
}

/** "A/3/1:4", with ".g0" for a grace note and ".t1" for a chord tone: the key of span tables and of drawn elements. */
export const addressKey = (at: Address): string =>
  `${at.part}/${at.bar}/${formatRational(at.onset).replace('/', ':')}` +
  (at.grace === undefined ? '' : `.g${at.grace}`) +
  (at.tone === undefined ? '' : `.t${at.tone}`);
