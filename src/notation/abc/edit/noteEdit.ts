import type { Pitch } from '../../../music/index.ts';
import type { Address, Bow, Finger, OrnamentSign } from '../../../score/index.ts';

/**
 * What shall be otherwise with notes that are pointed at.
 *
 * `finger`, `bow`: null takes it away. `sign`: an ornament put on or taken off. `graces`: the notes before the note; an
 * empty list takes them away. `chord`: the chord symbol over a note or rest; null takes it away. `slur`: on joins the
 * first and the last note by one slur; off takes every slur away that joins notes between the two, or that lies over the
 * note where both are the same. `step`: up (positive) or down by steps of the staff, with the accidental that key and
 * bar give there. `octave`: likewise by octaves, with the accidental it has. `pitch`: to just that pitch. Notes tied to
 * a note go with it. `length`: twice or half as long; `with` is the neighbour in the bar that gives or takes the time.
 */
export type NoteEdit =
  | { readonly kind: 'finger'; readonly at: readonly Address[]; readonly finger: Finger | null }
  | { readonly kind: 'bow'; readonly at: readonly Address[]; readonly bow: Bow | null }
  | {
      readonly kind: 'sign';
      readonly at: readonly Address[];
      readonly sign: OrnamentSign;
      readonly on: boolean;
    }
  | { readonly kind: 'graces'; readonly at: Address; readonly pitches: readonly Pitch[] }
  | { readonly kind: 'chord'; readonly at: Address; readonly text: string | null }
  | { readonly kind: 'slur'; readonly from: Address; readonly to: Address; readonly on: boolean }
  | { readonly kind: 'step' | 'octave'; readonly at: readonly Address[]; readonly by: number }
  | { readonly kind: 'pitch'; readonly at: Address; readonly pitch: Pitch }
  | {
      readonly kind: 'length';
      readonly at: Address;
      readonly times: 'double' | 'half';
      readonly with?: Address;
    };

/** A stretch of the old text and what stands there in the new one. Offsets in UTF-16 code units. */
export interface TextChange {
  readonly from: number;
  readonly to: number;
  readonly insert: string;
}

/** Why an edit is not made, in one or two sentences for the person who asked for it. */
export interface EditProblem {
  readonly kind: 'problem';
  readonly message: string;
}

/** The new text with what was changed in the old one, in order of place; no change where all is so already. */
export type EditedAbc =
  | { readonly kind: 'text'; readonly text: string; readonly change: readonly TextChange[] }
  | EditProblem;

/** An edit that cannot be made. */
export const problem = (message: string): EditProblem => ({ kind: 'problem', message });
