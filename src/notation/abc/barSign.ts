import { MOST_PASSES } from './limits.ts';
import { wholeNumberAt } from './numbers.ts';
import type { BarSign } from './token.ts';

/** Where the bar line sign that begins at `at` ends; `at` itself when none begins there. */
export const barSignEnd = (text: string, at: number): number => {
  let end = at;
  const first = text.charAt(at);
  if (first === '.' && text.charAt(at + 1) === '|') return at + 2;
  if (first === '[') {
    if (text.charAt(at + 1) !== '|') return at;
    end = at + 2;
  } else if (first === ':') {
    const next = text.charAt(at + 1);
    if (next !== ':' && next !== '|') return at;
  } else if (first !== '|') return at;
  for (;;) {
    const char = text.charAt(end);
    if (char === '|' || char === ':') end += 1;
    else if (char === ']' && text.charAt(end - 1) === '|') end += 1;
    else if (char === '[' && text.charAt(end + 1) === '|' && text.charAt(end - 1) !== '[') end += 2;
    else return end;
  }
};

const countAt = (text: string, from: number, step: 1 | -1): number => {
  let count = 0;
  while (text.charAt(from + step * count) === ':') count += 1;
  return count;
};

/**
 * What a bar line sign means.
 * @see Source: ABC standard 2.1, section 4.8 "Repeat/bar symbols": `::`, `:|:` and `:||:` are the same; signs that are
 * not in its list are read by their dots and lines
 */
export const barSignOf = (text: string): BarSign => {
  if (text === '.|') return { line: 'dotted', repeatEnd: 0, repeatStart: 0, odd: false };
  if (text === '[|]') return { line: 'invisible', repeatEnd: 0, repeatStart: 0, odd: false };
  const before = countAt(text, 0, 1);
  if (before === text.length) {
    const each = Math.max(1, Math.floor(before / 2));
    return {
      line: 'single',
      repeatEnd: Math.min(each, MOST_PASSES),
      repeatStart: Math.min(each, MOST_PASSES),
      odd: before !== 2,
    };
  }
  const after = countAt(text, text.length - 1, -1);
  const core = text.slice(before, text.length - after);
  const innerDots = core.split(':').length - 1;
  const lines = core.replaceAll(':', '');
  // "|:|" at the end of a tune in old books is the repeat end.
  const repeatEnd = before > 0 ? before : innerDots > 0 ? 1 : 0;
  const odd =
    innerDots > 0 ||
    !KNOWN_LINES.has(lines) ||
    (before > 0 && lines !== '|' && lines !== '||' && lines !== '|]');
  return {
    line: repeatEnd > 0 ? 'single' : lineOf(lines),
    repeatEnd: Math.min(repeatEnd, MOST_PASSES),
    repeatStart: Math.min(after, MOST_PASSES),
    odd,
  };
};

const KNOWN_LINES: ReadonlySet<string> = new Set(['|', '||', '|]', '[|', '[|]']);

const lineOf = (lines: string): BarSign['line'] => {
  if (lines.endsWith(']')) return lines.startsWith('[') && lines.length === 3 ? 'invisible' : 'final';
  if (lines.startsWith('[')) return 'startHeavy';
  return lines.length === 1 ? 'single' : 'double';
};

/** The passes of an ending ("1", "1,3", "1-3", "1,3,5-7") that begins with a digit at `at`. Source: section 4.10. */
export const passesAt = (
  text: string,
  at: number,
): { readonly passes: readonly number[]; readonly end: number } => {
  const passes = new Set<number>();
  let end = at;
  for (;;) {
    const first = wholeNumberAt(text, end);
    if (first === null) break;
    end = first.end;
    let last = first.value;
    if (text.charAt(end) === '-') {
      const upper = wholeNumberAt(text, end + 1);
      if (upper !== null) {
        last = upper.value;
        end = upper.end;
      }
    }
    for (let n = first.value; n <= Math.min(last, MOST_PASSES); n += 1) if (n >= 1) passes.add(n);
    if (text.charAt(end) !== ',' || wholeNumberAt(text, end + 1) === null) break;
    end += 1;
  }
  return { passes: [...passes].sort((a, b) => a - b), end };
};
