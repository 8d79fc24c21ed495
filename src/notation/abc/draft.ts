import { add, asWholeNotes, type Rational, type Span, type WholeNotes, ZERO } from '../../core/index.ts';
import type { Key, Metre, Pitch } from '../../music/index.ts';
import type {
  Annotation,
  BarLine,
  Bow,
  Field,
  Finger,
  Mark,
  OrnamentSign,
  Tempo,
  TupletPlace,
} from '../../score/index.ts';

/** Where the signs stand that were written before an event and belong to it. */
export interface SignsBefore {
  readonly decorations: readonly { readonly name: string; readonly span: Span }[];
  readonly texts: readonly { readonly text: string; readonly span: Span }[];
  readonly opens: readonly Span[];
  readonly graceGroups: readonly Span[];
}

/** A note or rest while its bar is being read: ties, broken rhythm and lyrics still change it. */
export interface DraftEvent {
  readonly kind: 'note' | 'rest';
  /** The melody first; empty for a rest. */
  pitches: readonly Pitch[];
  length: Rational;
  visible: boolean;
  graces: readonly Pitch[];
  slashed: boolean;
  signs: readonly OrnamentSign[];
  marks: readonly Mark[];
  bow: Bow | null;
  fingers: readonly Finger[];
  opens: number;
  closes: number;
  tied: boolean;
  tuplet: TupletPlace | null;
  beamed: boolean;
  others: readonly string[];
  lyric: string | null;
  readonly span: Span;
  readonly toneSpans: readonly Span[];
  graceSpans: readonly Span[];
  /** The signs that waited for it; null: none did. */
  waited: SignsBefore | null;
  /** The `)` behind it. */
  closeSpans: readonly Span[];
}

/** A chord symbol or annotation and the index of the event that it stands before. */
export interface DraftText {
  readonly at: number;
  readonly text: string;
  readonly span: Span;
}

/** An annotation, likewise. */
export interface DraftAnnotation {
  readonly at: number;
  readonly place: Annotation['place'];
  readonly text: string;
}

/** A bar while it is being read. */
export interface DraftBar {
  readonly events: DraftEvent[];
  key: Key;
  metre: Metre;
  repeatStart: number;
  repeatEnd: number;
  line: BarLine;
  ending: readonly number[] | null;
  readonly chords: DraftText[];
  /** Chord symbols from an overlay, by onset. */
  readonly overlayChords: { readonly onset: Rational; readonly text: string }[];
  readonly annotations: DraftAnnotation[];
  fields: (Field & { readonly at: number })[];
  tempo: Tempo | null;
  lineEnd: boolean;
  partLabel: string | null;
  /** −1 until its first sign. */
  start: number;
  end: number;
}

/** A bar without events in that key and metre. */
export const emptyBar = (key: Key, metre: Metre): DraftBar => ({
  events: [],
  key,
  metre,
  repeatStart: 0,
  repeatEnd: 0,
  line: 'none',
  ending: null,
  chords: [],
  overlayChords: [],
  annotations: [],
  fields: [],
  tempo: null,
  lineEnd: false,
  partLabel: null,
  start: -1,
  end: -1,
});

/** Most notes carry nothing: they share one empty list. */
const NONE: readonly never[] = [];

/** A note of these pitches; a rest without any. */
export const plainEvent = (
  pitches: readonly Pitch[],
  length: Rational,
  span: Span,
  toneSpans: readonly Span[] = NONE,
): DraftEvent => ({
  kind: pitches.length === 0 ? 'rest' : 'note',
  pitches,
  length,
  visible: true,
  graces: NONE,
  slashed: false,
  signs: NONE,
  marks: NONE,
  bow: null,
  fingers: NONE,
  opens: 0,
  closes: 0,
  tied: false,
  tuplet: null,
  beamed: false,
  others: NONE,
  lyric: null,
  span,
  toneSpans,
  graceSpans: NONE,
  waited: null,
  closeSpans: NONE,
});

/** Onsets of a bar's events and, last, its end. */
export const onsetsOf = (bar: DraftBar): readonly WholeNotes[] => {
  let at: Rational = ZERO;
  const onsets = [asWholeNotes(at)];
  for (const event of bar.events) {
    at = at.num === 0 ? event.length : add(at, event.length);
    onsets.push(asWholeNotes(at));
  }
  return onsets;
};
