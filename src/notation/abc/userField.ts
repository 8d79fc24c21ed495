import type { Span } from '../../core/index.ts';
import { LONGEST_LINE } from './limits.ts';
import type { Line } from './lines.ts';
import type { Macro, Reading } from './reading.ts';

/**
 * Reads a `U:`: "T = !trill!" gives a letter its meaning, "T = !nil!" takes it away.
 * @see Source: ABC standard 2.1, section 4.16 "Redefinable symbols"
 */
export const readUserSymbol = (r: Reading, value: string, span: Span): void => {
  const match = /^([H-Wh-w~])\s*=\s*(?:([!+])([\w.<>()^/#*~-]{1,40})[!+]|"([^"]*)")\s*$/.exec(value);
  const letter = match?.[1];
  if (letter === undefined) {
    r.problems.add('user-symbol-unreadable', `“${value}” gives no letter a meaning.`, span);
    return;
  }
  const name = match?.[3];
  // A letter that stands for words is kept as silent: words over notes are written as annotations.
  const meaning = name === undefined || name === 'nil' || name === 'none' ? '' : name;
  r.shortMarks = new Map(r.shortMarks).set(letter, meaning);
};

/**
 * Reads an `m:`: "~G2 = {A}G{F}G". With an `n` in it the macro is transposing: `n` is any note, `m` the note below, `o` above.
 * @see Source: ABC standard 2.1, section 9 "Macros"
 */
export const readMacro = (r: Reading, value: string, span: Span): void => {
  const at = value.indexOf('=');
  // "=" may be the accidental of the target's own note: the sign between spaces is the one that counts.
  const spaced = value.search(/\s=\s/);
  const split = spaced >= 0 ? spaced + 1 : at;
  const from = split < 0 ? '' : value.slice(0, split).trim();
  const to = split < 0 ? '' : value.slice(split + 1).trim();
  if (from === '' || from.length > 31) {
    r.problems.add('macro-unreadable', `“${value}” is no macro.`, span);
    return;
  }
  r.macros = [...r.macros.filter((m) => m.from !== from), { from, to }];
};

const NOTE_LETTERS = 'CDEFGABcdefgab';

/** Notes in order from C,,, to b''': one octave mark a step. */
const transposed = (note: string, steps: number): string => {
  const letter = note.charAt(0);
  const marks = note.slice(1);
  const octave = marks.startsWith("'") ? marks.length : -marks.length;
  const index = NOTE_LETTERS.indexOf(letter) + 7 * octave + steps;
  const within = ((index % 7) + 7) % 7;
  const octaves = Math.floor(index / 7);
  const base = NOTE_LETTERS.charAt(within);
  if (octaves <= 0) return base + ','.repeat(-octaves);
  return base.toLowerCase() + "'".repeat(octaves - 1);
};

const noteAt = (text: string, at: number): string | null => {
  if (!NOTE_LETTERS.includes(text.charAt(at)) || text.charAt(at) === '') return null;
  let end = at + 1;
  while (text.charAt(end) === ',' || text.charAt(end) === "'") end += 1;
  return text.slice(at, end);
};

/** What a macro puts in at `at`, and how much of the text it takes the place of; null when it does not apply there. */
const applied = (
  macro: Macro,
  text: string,
  at: number,
): { readonly put: string; readonly length: number } | null => {
  const n = macro.from.indexOf('n');
  if (n < 0) return text.startsWith(macro.from, at) ? { put: macro.to, length: macro.from.length } : null;
  const before = macro.from.slice(0, n);
  const after = macro.from.slice(n + 1);
  if (!text.startsWith(before, at)) return null;
  const note = noteAt(text, at + before.length);
  if (note === null || !text.startsWith(after, at + before.length + note.length)) return null;
  // Source: section 9.2: letters h to z stand for notes from six below to twelve above n.
  const put = macro.to.replaceAll(/![^!]*!|"[^"]*"|[h-z]/g, (found) =>
    found.length === 1 ? transposed(note, found.charCodeAt(0) - 'n'.charCodeAt(0)) : found,
  );
  return { put, length: before.length + note.length + after.length };
};

/** A line with its macros put in, and the place in the whole text that a stretch of it comes from. */
export interface Expanded {
  readonly text: string;
  readonly spanOf: (start: number, end: number) => Span;
}

const asWritten = (line: Line): Expanded => ({
  text: line.text,
  spanOf: (start, end) => ({ start: line.start + start, end: line.start + end }),
});

/** Puts the macros in: the first that fits at a place, left to right; what was put in is not searched again. */
export const expandMacros = (r: Reading, line: Line): Expanded => {
  if (r.macros.length === 0) return asWritten(line);
  const macros = r.macros.toSorted((a, b) => b.from.length - a.from.length);
  const starts: number[] = [];
  const ends: number[] = [];
  let text = '';
  for (let at = 0; at < line.text.length; ) {
    let found: ReturnType<typeof applied> = null;
    for (const macro of macros) {
      found = applied(macro, line.text, at);
      if (found !== null) break;
    }
    const put = found?.put ?? line.text.charAt(at);
    const length = found?.length ?? 1;
    if (text.length + put.length > LONGEST_LINE) {
      const span = { start: line.start, end: line.start + line.text.length };
      r.problems.add(
        'macro-too-long',
        `With its macros this line would be longer than ${LONGEST_LINE} letters.`,
        span,
      );
      return asWritten(line);
    }
    for (let i = 0; i < put.length; i += 1) {
      starts.push(line.start + at);
      ends.push(line.start + at + length);
    }
    text += put;
    at += length;
  }
  const end = line.start + line.text.length;
  return { text, spanOf: (from, to) => ({ start: starts[from] ?? end, end: ends[to - 1] ?? end }) };
};
