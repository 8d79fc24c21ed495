import type { WholeNotes } from '../../core/index.ts';
import type { AwkwardPlace, StayDown, StringName } from '../../fiddle/index.ts';
import type { Pitch, PitchClass } from '../../music/index.ts';
import type { Address, Bow, Finger } from '../../score/index.ts';
import type { Likeness } from '../maps/phraseMap.ts';

/** The version that a claim is about: addresses are the same in all. */
export type ClaimedVersion = 'bones' | 'plain' | 'full';

/** A written bar. */
export interface BarPlace {
  readonly part: string;
  /** Index among the part's written bars. */
  readonly bar: number;
}

/**
 * One fact that a sentence states, with every place for which it states it. Kept beside the words, so that each can be
 * held against the score by itself.
 *
 * `pitch`, `finger`, `string` are those of the note at the address (of its tone, of its grace note, where the address
 * says so); `flick` is a note of a roll that no sign spells; `moves` the finger that makes a flick.
 */
export type Claim = { readonly version: ClaimedVersion; readonly at: readonly Address[] } & (
  | { readonly kind: 'bars' }
  | { readonly kind: 'beat'; readonly beat: number; readonly onBeat: boolean }
  | { readonly kind: 'pitch'; readonly pitch: Pitch }
  | { readonly kind: 'flick'; readonly role: 'cut' | 'strike'; readonly pitch: Pitch }
  | { readonly kind: 'finger'; readonly finger: Finger; readonly height: string }
  | { readonly kind: 'moves'; readonly finger: Finger }
  | { readonly kind: 'string'; readonly string: StringName }
  | { readonly kind: 'bow'; readonly bow: Bow }
  | { readonly kind: 'length'; readonly length: WholeNotes }
  | { readonly kind: 'count'; readonly count: number; readonly of: 'notes' | 'strokes' }
  | {
      readonly kind: 'likeness';
      readonly likeness: Likeness['kind'];
      readonly as: BarPlace;
      readonly steps: number;
    }
  | { readonly kind: 'opens'; readonly bow: Bow; readonly count: number }
  | { readonly kind: 'stayDown'; readonly stays: readonly StayDown[] }
  | { readonly kind: 'awkward'; readonly places: readonly AwkwardPlace[] }
  | { readonly kind: 'hardest' }
  | { readonly kind: 'chords'; readonly names: readonly string[] }
  | { readonly kind: 'swing'; readonly amount: number }
  | { readonly kind: 'strings'; readonly strings: readonly StringName[] }
  | { readonly kind: 'without'; readonly notes: readonly PitchClass[] }
  | { readonly kind: 'different'; readonly different: number }
  | { readonly kind: 'keepsAll' }
);

/** A stretch of a sentence that states a fact; of no words where the words around it state it. */
export interface Stated {
  readonly words: string;
  readonly claim: Claim;
}

/** A stretch of a sentence: plain words, or a stated fact. */
export type Piece = string | Stated;

/** A sentence, or a few: its words and the facts in them. */
export interface Saying {
  readonly text: string;
  readonly pieces: readonly Piece[];
}

const wordsOf = (piece: Piece): string => (typeof piece === 'string' ? piece : piece.words);

/** Pieces said one after another; the first letter becomes a capital. */
export const saying = (pieces: readonly Piece[]): Saying => {
  const [first = '', ...others] = pieces.filter((p) => p !== '');
  const words = wordsOf(first);
  const raised = words.charAt(0).toUpperCase() + words.slice(1);
  const opened: Piece = typeof first === 'string' ? raised : { ...first, words: raised };
  const all = [opened, ...others];
  return { text: all.map(wordsOf).join(''), pieces: all };
};

/** The pieces of a template: `said\`the cut in ${bars}\``. */
export const said = (
  strings: TemplateStringsArray,
  ...values: readonly (Piece | readonly Piece[])[]
): readonly Piece[] =>
  strings.flatMap((text, i): readonly Piece[] => {
    const value = values[i];
    const pieces: readonly Piece[] =
      value === undefined ? [] : Array.isArray(value) ? value : [value as Piece];
    return [text, ...pieces].filter((p) => p !== '');
  });

/** "a", "a and b", "a, b and c" of pieces. */
export const joinedPieces = (items: readonly (readonly Piece[])[], last = ' and '): readonly Piece[] =>
  items.flatMap((item, i) => (i === 0 ? item : [i === items.length - 1 ? last : ', ', ...item]));
