import type { Alter, Step } from '../../music/index.ts';
import type { BarLine } from '../../score/index.ts';

/** What a bar line sign says. */
export interface BarSign {
  readonly line: BarLine;
  /** Dots before the line. */
  readonly repeatEnd: number;
  /** Dots behind it. */
  readonly repeatStart: number;
  /** No bar line of the standard; read as the nearest one. */
  readonly odd: boolean;
}

/** A note letter with its signs, before key and bar give it its pitch. */
export interface NoteSign {
  readonly step: Step;
  readonly octave: number;
  /** The written accidental, null without one. */
  readonly alter: Alter | null;
  /** A quarter-tone or third sign that was read as a whole one. */
  readonly microtone: boolean;
}

/** One sign of a music line; `start` and `end` are offsets in the line. */
export type Token = { readonly start: number; readonly end: number } & (
  | ({ readonly kind: 'note'; readonly num: number; readonly den: number } & NoteSign)
  | { readonly kind: 'rest'; readonly visible: boolean; readonly num: number; readonly den: number }
  | { readonly kind: 'barRest'; readonly visible: boolean; readonly bars: number }
  | { readonly kind: 'chordOpen' | 'graceClose' | 'slurOpen' | 'slurClose' | 'tie' | 'overlay' | 'space' }
  | { readonly kind: 'spacer' | 'beamJoin' | 'continuation' | 'lineBreak' }
  | { readonly kind: 'chordClose'; readonly num: number; readonly den: number }
  | { readonly kind: 'graceOpen'; readonly slashed: boolean }
  | { readonly kind: 'broken'; readonly dots: number; readonly longFirst: boolean }
  | { readonly kind: 'tuplet'; readonly p: number; readonly q: number | null; readonly r: number | null }
  | { readonly kind: 'quoted'; readonly text: string; readonly closed: boolean }
  | { readonly kind: 'decoration'; readonly name: string }
  | { readonly kind: 'shortMark'; readonly mark: string }
  | { readonly kind: 'barLine'; readonly sign: BarSign; readonly passes: readonly number[] | null }
  | { readonly kind: 'ending'; readonly passes: readonly number[] }
  | { readonly kind: 'field'; readonly code: string; readonly value: string; readonly closed: boolean }
  | { readonly kind: 'comment'; readonly text: string }
  | { readonly kind: 'unknown'; readonly text: string }
);
