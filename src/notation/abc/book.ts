import type { Diagnostic } from '../../core/index.ts';
import { MOST_TEXT } from './limits.ts';
import { fieldCodeOf, isBlank, type Line, linesOf } from './lines.ts';
import { defaultUnitOf } from './metreField.ts';
import { PROBLEM_KINDS } from './problems.ts';
import type { ReadTune } from './readTune.ts';
import { readTune } from './tune.ts';

/** A text of one or many tunes, read. */
export interface AbcBook {
  readonly tunes: readonly ReadTune[];
  /** All problems, tune by tune. */
  readonly diagnostics: readonly Diagnostic[];
}

const problem = (code: 'text-too-long' | 'no-tune' | 'number-repeated', message: string): Diagnostic => {
  const kind: { readonly severity: Diagnostic['severity']; readonly hint?: string } = PROBLEM_KINDS[code];
  return { code, severity: kind.severity, message, ...(kind.hint === undefined ? {} : { hint: kind.hint }) };
};

const startsTune = (line: Line): boolean => fieldCodeOf(line.text) === 'X';

/** The stretches of lines from each `X:` to the next empty line or `X:`, and the file header before the first. */
const stretchesOf = (
  lines: readonly Line[],
): { readonly header: readonly Line[]; readonly tunes: readonly (readonly Line[])[] } => {
  const header: Line[] = [];
  const tunes: Line[][] = [];
  let current: Line[] | null = null;
  let inText = false;
  let headerOpen = true;
  for (const line of lines) {
    // Text blocks may hold lines that look like fields.
    if (/^%%begin(?:text|ps|svg)/.test(line.text)) inText = true;
    if (inText) {
      if (/^%%end(?:text|ps|svg)/.test(line.text)) inText = false;
      continue;
    }
    if (startsTune(line)) {
      current = [line];
      tunes.push(current);
      headerOpen = false;
    } else if (isBlank(line)) {
      current = null;
      if (header.length > 0) headerOpen = false;
    } else if (current !== null) current.push(line);
    else if (headerOpen && (line.text.startsWith('%') || fieldCodeOf(line.text) !== null)) header.push(line);
    else headerOpen = false;
  }
  return { header, tunes };
};

/**
 * Reads the one tune of a text whose `X:` line begins at `start`, without the others.
 * @throws RangeError when none begins there (a caller's bug)
 */
export const readTuneAt = (text: string, start: number): ReadTune => {
  const { header, tunes } = stretchesOf(linesOf(text));
  const index = tunes.findIndex(([first]) => first?.start === start);
  const lines = tunes[index];
  if (lines === undefined) throw new RangeError(`readTuneAt(${start}): no tune begins there`);
  return readTune(lines, header, { number: index + 1, unitOf: defaultUnitOf });
};

const repeatedNumbers = (tunes: readonly ReadTune[]): readonly Diagnostic[] => {
  const seen = new Set<number>();
  const repeated = new Set<number>();
  for (const { score } of tunes) {
    if (seen.has(score.number)) repeated.add(score.number);
    seen.add(score.number);
  }
  if (repeated.size === 0) return [];
  const numbers = [...repeated];
  const listed = numbers.slice(0, 8).join(', ') + (numbers.length > 8 ? ' …' : '');
  return [problem('number-repeated', `Some tunes share a number: ${listed}.`)];
};

/**
 * Reads a text in ABC 2.1: one tune or a tune book.
 *
 * Never throws on bad input and never stops at the first problem: what can be read is read, and every problem is a
 * diagnostic with its place in the text. Of several voices the first is the tune.
 * @param text - the file's text; a byte order mark is allowed
 * @see Source: The abc music standard 2.1, ed. C. Walshaw, December 2011
 */
export const readAbc = (text: string): AbcBook => {
  if (text.length > MOST_TEXT) {
    const message = `The text is longer than ${MOST_TEXT / 1_000_000} MB, which is the most that is read.`;
    return { tunes: [], diagnostics: [problem('text-too-long', message)] };
  }
  const { header, tunes } = stretchesOf(linesOf(text));
  const read = tunes.map((lines, i) => readTune(lines, header, { number: i + 1, unitOf: defaultUnitOf }));
  if (read.length === 0) {
    return {
      tunes: [],
      diagnostics: [problem('no-tune', 'There is no tune in this text: no line begins with X:.')],
    };
  }
  return {
    tunes: read,
    diagnostics: [...repeatedNumbers(read), ...read.flatMap((tune) => tune.diagnostics)],
  };
};
