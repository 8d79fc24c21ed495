import type { WholeNotes } from '../../core/index.ts';
import type { Accent, OrnamentSite, SiteKind, StringName } from '../../fiddle/index.ts';
import type { Chord } from '../../music/index.ts';
import type { Finger } from '../../score/index.ts';

/** How many ornaments are suggested. */
export const SUGGESTION_DENSITIES = ['few', 'usual', 'many'] as const;
/** How many ornaments are suggested: three, six or eight in the usual eight bars. */
export type SuggestionDensity = (typeof SUGGESTION_DENSITIES)[number];

/** What is suggested; every field may be left out. */
export interface SuggestionSettings {
  /** Default `usual`. */
  readonly density?: SuggestionDensity;
  /** Where a bar comes again on paper: the same ornament, or another one every second time. Default `same`. */
  readonly secondTime?: 'same' | 'varied';
  /** Only these kinds; all when absent. */
  readonly kinds?: readonly SiteKind[];
}

/** Why an ornament is suggested: each is a fact of the plain tune. */
export type Reason =
  /** The note before has the same pitch. */
  | { readonly kind: 'partsEqual' }
  /** It marks a place that the metre weighs. */
  | { readonly kind: 'accent'; readonly accent: Exclude<Accent, 'none'> }
  /** The note lasts long enough. */
  | { readonly kind: 'length'; readonly length: WholeNotes }
  /** Three running notes leave a pitch and come back to it, or stay. */
  | { readonly kind: 'noteXNote' }
  /** Two running notes lie a third apart. */
  | { readonly kind: 'fillsThird' }
  /** The note is an open string, which can have no roll. */
  | { readonly kind: 'openString'; readonly string: StringName }
  /** The left hand has next to nothing to do: an open string or the first finger. */
  | { readonly kind: 'easyFinger'; readonly finger: Finger }
  /** The open string that rings is the root of the chord there, or another tone of it. */
  | { readonly kind: 'rings'; readonly string: StringName; readonly asRoot: boolean; readonly chord: Chord }
  /** The note is a tone of the chord there. */
  | { readonly kind: 'chordTone'; readonly chord: Chord }
  /** It is the last note of its part. */
  | { readonly kind: 'lastNote' }
  /** The bar comes so often, and the ornament each time. */
  | { readonly kind: 'comesAgain'; readonly times: number }
  /** The bar came before, with another ornament. */
  | { readonly kind: 'varied'; readonly from: SiteKind };

/** An ornament that a fiddler might play there. The teacher decides. */
export interface OrnamentSuggestion extends OrnamentSite {
  /** What speaks for it, weightiest first; never empty. */
  readonly reasons: readonly Reason[];
  /** How much speaks for it; for putting the best first. */
  readonly worth: number;
}
