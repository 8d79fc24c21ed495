import type { Diagnostic, Span } from '../../core/index.ts';
import type { Score } from '../../score/index.ts';

/** Where the signs of one note or rest were written; those of an `s:` line are not among them. */
export interface WrittenSigns {
  /** Decorations in order of writing, by the name that they stand for ("upbow" for `u`). */
  readonly decorations: readonly { readonly name: string; readonly span: Span }[];
  /** Chord symbols and annotations, without their quotes. */
  readonly texts: readonly { readonly text: string; readonly span: Span }[];
  /** Groups of grace notes with their braces. */
  readonly graces: readonly Span[];
  /** Signs that open a slur here, and that close one. */
  readonly opens: readonly Span[];
  readonly closes: readonly Span[];
}

/** A tune as read: the score, and a table of where in the text each thing was written. */
export interface ReadTune {
  readonly score: Score;
  /** From `addressKey` of a note, rest, grace note or further chord tone to its place in the whole text. */
  readonly spans: ReadonlyMap<string, Span>;
  /** From `addressKey` of a note or rest to its signs; those without any have no entry. */
  readonly signs: ReadonlyMap<string, WrittenSigns>;
  /** From "A/3" (part and index of the bar in it) to the bar's first sign to the end of its bar line. */
  readonly barSpans: ReadonlyMap<string, Span>;
  /** The tune from its `X:` to its last line. */
  readonly span: Span;
  /** Problems of this tune in order of place. */
  readonly diagnostics: readonly Diagnostic[];
}
