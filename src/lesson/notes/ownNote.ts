import type { OrnamentKind } from '../../fiddle/index.ts';

/** The bar that a teacher's own words belong to, and what it sounded like when they were written. */
export interface NoteAnchor {
  readonly part: string;
  /** Index among the part's written bars, pick-ups included, from 0. */
  readonly bar: number;
  /** Fingerprint of the plain bar; left out: whatever stands there. */
  readonly plain?: string;
}

/** Own words of the teacher: beside what the program says about the same thing, or in its place. */
export type OwnNote = {
  readonly words: string;
  /** Subject of the remark whose place they take ("fingers", "stay-down 1"; in a bar or an ornament anything); left out: they join. */
  readonly replaces?: string;
} & (
  | { readonly about: 'tune' }
  | { readonly about: 'part'; readonly part: string }
  | { readonly about: 'ornament'; readonly ornament: OrnamentKind }
  | { readonly about: 'bar'; readonly anchor: NoteAnchor }
);
