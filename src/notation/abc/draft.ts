import { type Rational, type Span, ZERO } from '../../core/index.ts';
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

/** A note or rest while its bar is being read: ties, broken rhythm and lyrics still change it. */
export interface DraftEvent {
  readonly kind: 'note' | 'rest';
  /** The melody first; empty for a rest. */
  readonly pitches: Pitch[];
  length: Rational;
  readonly visible: boolean;
  graces: readonly Pitch[];
  slashed: boolean;
  readonly signs: OrnamentSign[];
  readonly marks: Mark[];
  bow: Bow | null;
  readonly fingers: Finger[];
  opens: number;
  closes: number;
  tied: boolean;
  tuplet: TupletPlace | null;
  beamed: boolean;
  readonly others: string[];
  lyric: string | null;
  readonly span: Span;
  readonly toneSpans: readonly Span[];
  graceSpans: readonly Span[];
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

/** A rest, or a note once its pitches are pushed. */
export const emptyEvent = (
  kind: 'note' | 'rest',
  length: Rational,
  span: Span,
  toneSpans: readonly Span[] = [],
): DraftEvent => ({
  kind,
  pitches: [],
  length,
  visible: true,
  graces: [],
  slashed: false,
  signs: [],
  marks: [],
  bow: null,
  fingers: [],
  opens: 0,
  closes: 0,
  tied: false,
  tuplet: null,
  beamed: false,
  others: [],
  lyric: null,
  span,
  toneSpans,
  graceSpans: [],
});

/** Onsets of a bar's events and, last, its end. */
export const onsetsOf = (bar: DraftBar, sum: (a: Rational, b: Rational) => Rational): readonly Rational[] => {
  const onsets: Rational[] = [ZERO];
  let at = ZERO;
  for (const event of bar.events) {
    at = sum(at, event.length);
    onsets.push(at);
  }
  return onsets;
};
