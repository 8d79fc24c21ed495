import type { Address, Score } from '../../score/index.ts';

/** What a staff shows of the left hand beside the fingers that its score bears. */
export interface MeiHands {
  /** By `addressKey` of a note that bears a second finger: which one it is, printed as L2 or H2. */
  readonly seconds: ReadonlyMap<string, 'low' | 'high'>;
  /** Brackets over the notes for which a finger stays down. */
  readonly stayDowns: readonly { readonly from: Address; readonly to: Address }[];
}

/** One staff: one version of the tune. */
export interface MeiStaff {
  /** Begins the ids of everything on the staff: letters and digits, a letter first ("bones"). */
  readonly id: string;
  /** Stands before the staff; null: nothing does. */
  readonly name: string | null;
  readonly score: Score;
  /** Absent: nothing. */
  readonly hands?: MeiHands;
}

/** What an MEI file holds: one or several versions, bar under bar. Their parts and bars must correspond. */
export interface MeiDocument {
  readonly title: string;
  /** Composer or "Trad."; null: not said. */
  readonly composer: string | null;
  /** Top staff first; chord symbols, endings, bar numbers and part labels come from it alone. */
  readonly staves: readonly [MeiStaff, ...MeiStaff[]];
}

/** How to write it. */
export interface MeiWriting {
  /** Written bars, counted from 0 through all parts, `to` not included. Default: all of them. */
  readonly range?: { readonly from: number; readonly to: number };
  /** Whether the metre is printed at the start. Default true. */
  readonly printsMetre?: boolean;
  /** Whether tempo marks are written. Default true. */
  readonly writesTempo?: boolean;
  /** Whether parts are labelled. Default true. */
  readonly labelsParts?: boolean;
  /** Says that all bars stand in one line, so that a program breaks nowhere else. Default false. */
  readonly oneSystem?: boolean;
  /** Whether chord symbols stand higher than usual: over a bracket that they would meet. Default false. */
  readonly raisesChords?: boolean;
}
