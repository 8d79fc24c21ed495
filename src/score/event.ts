import type { WholeNotes } from '../core/index.ts';
import type { Pitch } from '../music/index.ts';

/** Bow direction of a stroke. */
export type Bow = 'down' | 'up';
/** Left-hand finger, 0 for the open string. */
export type Finger = 0 | 1 | 2 | 3 | 4;

/** Grace notes before a note: they take no score time. One above is a cut; what they are is named in the fiddle room. */
export interface GraceNotes {
  readonly pitches: readonly [Pitch, ...Pitch[]];
  /** Written with a slash (acciaccatura). */
  readonly slashed: boolean;
}

/** Signs on a note that change how it is played. */
export type OrnamentSign = 'roll' | 'slide' | 'trill' | 'turn' | 'upperMordent' | 'lowerMordent';

/** Other signs that we read, draw and write. */
export type Mark =
  | 'staccato'
  | 'accent'
  | 'fermata'
  | 'tenuto'
  | 'segno'
  | 'coda'
  | 'fine'
  | 'dacapo'
  | 'dalsegno'
  | 'breath';

/** Where an event stands in its tuplet: `actual` notes in the time of `normal`; its length is already the played one. */
export interface TupletPlace {
  readonly actual: number;
  readonly normal: number;
  /** From 0. */
  readonly index: number;
  /** How many events the tuplet has. */
  readonly count: number;
}

/** A sounding note. The first pitch is the melody; the others sound along (drone, double stop). */
export interface Note {
  readonly kind: 'note';
  readonly pitches: readonly [Pitch, ...Pitch[]];
  /** Played length; in a tuplet the written length × normal ÷ actual. */
  readonly length: WholeNotes;
  readonly graces: GraceNotes | null;
  readonly signs: readonly OrnamentSign[];
  readonly marks: readonly Mark[];
  readonly bow: Bow | null;
  /** Written fingers, one for each pitch as far as written; empty when none is. */
  readonly fingers: readonly Finger[];
  readonly slurs: { readonly opens: number; readonly closes: number };
  readonly tiedToNext: boolean;
  readonly tuplet: TupletPlace | null;
  /** Written without a space before the next event: beamed to it where both have flags. */
  readonly beamedToNext: boolean;
  /** Decorations that are none of ours, by name, kept for writing ("!arpeggio!" → "arpeggio"). */
  readonly otherDecorations: readonly string[];
  /** Syllable under the note (`w:`), where there is one. */
  readonly lyric: string | null;
}

/** Silence. */
export interface Rest {
  readonly kind: 'rest';
  readonly length: WholeNotes;
  /** False for an invisible rest (`x`). */
  readonly visible: boolean;
  readonly tuplet: TupletPlace | null;
  readonly beamedToNext: boolean;
  readonly marks: readonly Mark[];
}

/** One thing in a bar. Where it stands is its address; where it was written is in the span table. */
export type Event = Note | Rest;

/** A plain note: one pitch, nothing on it. For tests and for deriving versions. */
export const plainNote = (pitch: Pitch, length: WholeNotes): Note => ({
  kind: 'note',
  pitches: [pitch],
  length,
  graces: null,
  signs: [],
  marks: [],
  bow: null,
  fingers: [],
  slurs: { opens: 0, closes: 0 },
  tiedToNext: false,
  tuplet: null,
  beamedToNext: false,
  otherDecorations: [],
  lyric: null,
});
