import type { Diagnostic, Span } from '../../core/index.ts';
import type { Score } from '../../score/index.ts';

/** A tune as read: the score, and a table of where in the text each thing was written. */
export interface ReadTune {
  readonly score: Score;
  /** From `addressKey` of a note, rest, grace note or further chord tone to its place in the whole text. */
  readonly spans: ReadonlyMap<string, Span>;
  /** From "A/3" (part and index of the bar in it) to the bar's first sign to the end of its bar line. */
  readonly barSpans: ReadonlyMap<string, Span>;
  /** The tune from its `X:` to its last line. */
  readonly span: Span;
  /** Problems of this tune in order of place. */
  readonly diagnostics: readonly Diagnostic[];
}
