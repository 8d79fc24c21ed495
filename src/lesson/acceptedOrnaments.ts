import { formatRational, parseWholeNotes } from '../core/index.ts';
import type { SiteKind } from '../fiddle/index.ts';
import type { Address, Score } from '../score/index.ts';
import { withOrnaments } from '../versions/index.ts';
import { type Anchor, anchorOf, isAsItWas } from './anchors/index.ts';

/** An ornament that the teacher has accepted, as lesson.json keeps it. */
export interface AcceptedEntry {
  /** The plain bar that it belongs to. */
  readonly anchor: Anchor;
  /** Where in the bar its first note begins, in whole notes: "1/4". */
  readonly onset: string;
  readonly kind: SiteKind;
}

/** What is kept of an ornament at that place of the plain version. */
export const acceptedEntry = (
  plain: Score,
  { part, bar, onset }: Address,
  kind: SiteKind,
): AcceptedEntry => ({ anchor: anchorOf(plain, part, bar), onset: formatRational(onset), kind });

/**
 * The full version: the tune as written with the accepted ornaments.
 *
 * A bar that is no longer what it was keeps none: what is left out is told, never dropped.
 * @param entries - where their bars are now
 */
export const fullWith = (
  written: Score,
  plain: Score,
  entries: readonly AcceptedEntry[],
): { readonly full: Score; readonly left: readonly AcceptedEntry[] } => {
  const isThere = ({ anchor }: AcceptedEntry): boolean => isAsItWas(anchor, plain);
  const accepted = entries.filter(isThere).map((entry) => {
    const { anchor, onset, kind } = entry;
    return { part: anchor.part, bar: anchor.bar, onset: parseWholeNotes(onset), kind, entry };
  });
  const { score, left } = withOrnaments(written, plain, accepted);
  const notPut = new Set<unknown>(left);
  const lost = new Set(accepted.filter((a) => notPut.has(a)).map((a) => a.entry));
  return { full: score, left: entries.filter((entry) => !isThere(entry) || lost.has(entry)) };
};
