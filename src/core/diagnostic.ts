/** A stretch of a text: offsets in UTF-16 code units, `end` exclusive. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** How bad it is: an error stops a build unless the user says "anyway"; warnings and remarks never do. */
export type Severity = 'error' | 'warning' | 'remark';

/** Something about the user's input that the user should know, with its place and, where there is one, the remedy. */
export interface Diagnostic {
  /** Stable name in kebab case, for tests and for looking it up ("bar-too-long"). */
  readonly code: string;
  readonly severity: Severity;
  /** One sentence in a musician's words. */
  readonly message: string;
  /** Where in the text; absent when it concerns the whole. */
  readonly span?: Span;
  /** What to do about it. */
  readonly hint?: string;
}

/** A place in a text as people count: both from 1, columns in UTF-16 code units. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

/**
 * Answers "which line and column is this offset?" for one text; lines end with LF, CR LF or CR.
 * @returns a function from offset (clamped to the text) to place; each call takes O(log lines)
 */
export const placeFinder = (text: string): ((offset: number) => Place) => {
  const starts = [0];
  for (let i = 0; i < text.length; i += 1) {
    const code = text.charCodeAt(i);
    if (code === 10 || (code === 13 && text.charCodeAt(i + 1) !== 10)) starts.push(i + 1);
  }
  return (offset) => {
    const at = Math.max(0, Math.min(offset, text.length));
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((starts[middle] ?? 0) <= at) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: at - (starts[low] ?? 0) + 1 };
  };
};
