/** One line of a text, without its line end. */
export interface Line {
  readonly text: string;
  /** Offset of its first character in the whole text. */
  readonly start: number;
}

/** The lines of a text: they end with LF, CR LF or CR; a byte order mark at the start is left out. */
export const linesOf = (text: string): readonly Line[] => {
  const lines: Line[] = [];
  let start = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  for (let i = start; i < text.length; i += 1) {
    const code = text.charCodeAt(i);
    if (code !== 10 && code !== 13) continue;
    lines.push({ text: text.slice(start, i), start });
    if (code === 13 && text.charCodeAt(i + 1) === 10) i += 1;
    start = i + 1;
  }
  if (start < text.length) lines.push({ text: text.slice(start), start });
  return lines;
};

/** Whether a line is empty but for spaces: it ends a tune. */
export const isBlank = (line: Line): boolean => line.text.trim() === '';

const isLetter = (code: number): boolean => (code >= 65 && code <= 90) || (code >= 97 && code <= 122);

/**
 * The code of a line that is an information field ("K:G" → "K"; "+:" continues the one before); null for other lines.
 *
 * A line such as "G:|" or "c::" is music that ends in a repeat, not a field, unless it stands in a header.
 */
export const fieldCodeOf = (text: string, inHeader = false): string | null => {
  if (text.charAt(1) !== ':') return null;
  const code = text.charAt(0);
  if (code !== '+' && !isLetter(text.charCodeAt(0))) return null;
  const next = text.charAt(2);
  const isNoteLetter = 'abcdefgzABCDEFG'.includes(code);
  return !inHeader && isNoteLetter && (next === '|' || next === ':') ? null : code;
};

/** Where a comment begins in a field's line: the first "%" that no backslash protects; −1 without one. */
const commentStart = (text: string): number => {
  for (let at = text.indexOf('%'); at >= 0; at = text.indexOf('%', at + 1)) {
    if (text.charAt(at - 1) !== '\\') return at;
  }
  return -1;
};

/** A field's value and where it stands, and the comment behind it. */
export interface FieldText {
  readonly value: string;
  /** Offset of the value's first character in the whole text. */
  readonly start: number;
  readonly end: number;
  readonly comment: string | null;
}

/** Splits a field's line behind its code. */
export const fieldTextOf = (line: Line): FieldText => {
  const comment = commentStart(line.text);
  const raw = line.text.slice(2, comment < 0 ? undefined : comment);
  const value = raw.trim();
  const start = line.start + 2 + (raw.length - raw.trimStart().length);
  return {
    value,
    start,
    end: start + value.length,
    comment: comment < 0 ? null : line.text.slice(comment + 1).trim(),
  };
};
