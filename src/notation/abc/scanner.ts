import type { Alter, Step } from '../../music/index.ts';
import { barSignEnd, barSignOf, passesAt } from './barSign.ts';
import { lengthAt, wholeNumberAt } from './numbers.ts';
import { decodeText } from './text.ts';
import type { NoteSign, Token } from './token.ts';

/** Octave of capital letters without marks: C is middle C. Source: ABC standard 2.1, section 4.1 "Pitch". */
const CAPITAL_OCTAVE = 4;
const LONGEST_DECORATION = 40;

const isDigit = (char: string): boolean => char >= '0' && char <= '9' && char.length === 1;
const isSpace = (char: string): boolean =>
  char === ' ' || char === '\t' || char === '\u00a0' || char === '\v' || char === '\f';
const isLetter = (char: string): boolean => (char >= 'A' && char <= 'Z') || (char >= 'a' && char <= 'z');
const isNoteLetter = (char: string): boolean => (char >= 'A' && char <= 'G') || (char >= 'a' && char <= 'g');
const isShortMark = (char: string): boolean =>
  char === '~' || (char >= 'H' && char <= 'W') || (char >= 'h' && char <= 'w');
const isDecorationChar = (char: string): boolean =>
  isLetter(char) || isDigit(char) || '.<>()-_^/#*~'.includes(char);

interface Accidental {
  readonly alter: Alter | null;
  readonly microtone: boolean;
  readonly end: number;
}

const accidentalAt = (text: string, at: number): Accidental => {
  const sign = text.charAt(at);
  if (sign !== '^' && sign !== '_' && sign !== '=') return { alter: null, microtone: false, end: at };
  let end = at + 1;
  while (sign !== '=' && text.charAt(end) === sign && end - at < 3) end += 1;
  const count = Math.min(2, end - at);
  // "^/c" and "^3/2c" are microtones, which a fiddle tune's notation here rounds to the whole sign.
  const fraction = lengthAt(text, end);
  const microtone = fraction.end > end;
  const alter = sign === '=' ? 0 : sign === '^' ? count : -count;
  return { alter: alter as Alter, microtone, end: fraction.end };
};

/** The note letter with accidental and octave marks at `at`; null when there is none. */
export const noteSignAt = (text: string, at: number): (NoteSign & { readonly end: number }) | null => {
  const accidental = accidentalAt(text, at);
  const letter = text.charAt(accidental.end);
  if (!isNoteLetter(letter)) return null;
  let octave = letter >= 'a' ? CAPITAL_OCTAVE + 1 : CAPITAL_OCTAVE;
  let end = accidental.end + 1;
  for (;;) {
    const mark = text.charAt(end);
    if (mark === "'") octave += 1;
    else if (mark === ',') octave -= 1;
    else break;
    end += 1;
  }
  return {
    step: letter.toUpperCase() as Step,
    octave,
    alter: accidental.alter,
    microtone: accidental.microtone,
    end,
  };
};

const restAt = (text: string, at: number): Token => {
  const char = text.charAt(at);
  if (char === 'Z' || char === 'X') {
    const bars = wholeNumberAt(text, at + 1);
    return {
      kind: 'barRest',
      visible: char === 'Z',
      bars: bars?.value ?? 1,
      start: at,
      end: bars?.end ?? at + 1,
    };
  }
  const { num, den, end } = lengthAt(text, at + 1);
  if (char === 'y') return { kind: 'spacer', start: at, end };
  return { kind: 'rest', visible: char === 'z', num, den, start: at, end };
};

const quotedAt = (text: string, at: number): Token => {
  const close = text.indexOf('"', at + 1);
  if (close >= 0)
    return {
      kind: 'quoted',
      text: decodeText(text.slice(at + 1, close)),
      closed: true,
      start: at,
      end: close + 1,
    };
  // The next bar line is the likeliest place where a forgotten quote should have stood.
  const bar = text.indexOf('|', at + 1);
  const end = bar < 0 ? text.length : bar;
  return { kind: 'quoted', text: decodeText(text.slice(at + 1, end)).trim(), closed: false, start: at, end };
};

/** "+CEG+", the outdated form of a chord: what stands between the signs is nothing but notes. Source: ABC standard 2.1, section 10 (outdated syntax; number from memory). */
const OUTDATED_CHORD = /^\+([\^_=]{0,2}[A-Ga-g][,']{0,3}\d{0,2}(?:\/\d{0,2})?){2,8}\+/;

const isOutdatedChord = (text: string, at: number): boolean =>
  OUTDATED_CHORD.test(text.slice(at, at + LONGEST_DECORATION * 2));

/** `!name!` or `+name+`; null when the sign stands alone. */
const decorationAt = (text: string, at: number): Token | null => {
  const sign = text.charAt(at);
  let end = at + 1;
  while (end - at <= LONGEST_DECORATION && isDecorationChar(text.charAt(end)) && text.charAt(end) !== '')
    end += 1;
  if (text.charAt(end) !== sign || end === at + 1) return null;
  const name = text.slice(at + 1, end);
  return { kind: 'decoration', name, start: at, end: end + 1 };
};

const openParenthesisAt = (text: string, at: number): Token => {
  const p = wholeNumberAt(text, at + 1);
  if (p === null) return { kind: 'slurOpen', start: at, end: at + 1 };
  let end = p.end;
  const parts: (number | null)[] = [];
  while (parts.length < 2 && text.charAt(end) === ':') {
    const part = wholeNumberAt(text, end + 1);
    parts.push(part?.value ?? null);
    end = part?.end ?? end + 1;
  }
  return { kind: 'tuplet', p: p.value, q: parts[0] ?? null, r: parts[1] ?? null, start: at, end };
};

const openBracketAt = (text: string, at: number): Token => {
  const next = text.charAt(at + 1);
  if (isDigit(next)) {
    const { passes, end } = passesAt(text, at + 1);
    return { kind: 'ending', passes, start: at, end: text.charAt(end) === '.' ? end + 1 : end };
  }
  if (isLetter(next) && text.charAt(at + 2) === ':') {
    const close = text.indexOf(']', at + 3);
    const end = close < 0 ? text.length : close;
    return {
      kind: 'field',
      code: next,
      value: text.slice(at + 3, end).trim(),
      closed: close >= 0,
      start: at,
      end: close < 0 ? end : end + 1,
    };
  }
  return { kind: 'chordOpen', start: at, end: at + 1 };
};

const brokenAt = (text: string, at: number): Token => {
  const sign = text.charAt(at);
  let end = at + 1;
  while (text.charAt(end) === sign) end += 1;
  return { kind: 'broken', dots: end - at, longFirst: sign === '>', start: at, end };
};

const barLineAt = (text: string, at: number, end: number): Token => {
  const sign = barSignOf(text.slice(at, end));
  if (isDigit(text.charAt(end)) && text.charAt(end - 1) === '|') {
    const ending = passesAt(text, end);
    const stop = text.charAt(ending.end) === '.' ? ending.end + 1 : ending.end;
    return { kind: 'barLine', sign, passes: ending.passes, start: at, end: stop };
  }
  return { kind: 'barLine', sign, passes: null, start: at, end };
};

const backslashAt = (text: string, at: number): Token => {
  const rest = text.slice(at + 1).trimStart();
  if (rest === '' || rest.startsWith('%')) return { kind: 'continuation', start: at, end: at + 1 };
  return { kind: 'unknown', text: '\\', start: at, end: at + 1 };
};

const signAt = (text: string, at: number, char: string): Token | null => {
  const one = { start: at, end: at + 1 };
  switch (char) {
    case '"':
      return quotedAt(text, at);
    case '(':
      return openParenthesisAt(text, at);
    case ')':
      return { kind: 'slurClose', ...one };
    case '-':
      return { kind: 'tie', ...one };
    case '>':
    case '<':
      return brokenAt(text, at);
    case '{': {
      const slashed = text.charAt(at + 1) === '/';
      return { kind: 'graceOpen', slashed, start: at, end: slashed ? at + 2 : at + 1 };
    }
    case '}':
      return { kind: 'graceClose', ...one };
    case '[':
      return openBracketAt(text, at);
    case ']': {
      const { num, den, end } = lengthAt(text, at + 1);
      return { kind: 'chordClose', num, den, start: at, end };
    }
    case '&':
      return { kind: 'overlay', ...one };
    case '`':
      return { kind: 'beamJoin', ...one };
    case '$':
      return { kind: 'lineBreak', ...one };
    case '!':
      return decorationAt(text, at) ?? { kind: 'lineBreak', ...one };
    case '+':
      if (isOutdatedChord(text, at)) return { kind: 'chordOpen', ...one };
      return decorationAt(text, at);
    case '\\':
      return backslashAt(text, at);
    case '%':
      return { kind: 'comment', text: text.slice(at + 1).trim(), start: at, end: text.length };
    case '.': {
      const next = text.charAt(at + 1);
      // A dotted slur or tie is drawn dotted and played as any other.
      if (next === '(' || next === '-') return tokenAt(text, at + 1);
      return { kind: 'shortMark', mark: '.', ...one };
    }
    default:
      return null;
  }
};

/** The sign that begins at `at`. Always moves on by at least one character. */
const tokenAt = (text: string, at: number): Token => {
  const char = text.charAt(at);
  const note = noteSignAt(text, at);
  if (note !== null) {
    const { num, den, end } = lengthAt(text, note.end);
    const { step, octave, alter, microtone } = note;
    return { kind: 'note', step, octave, alter, microtone, num, den, start: at, end };
  }
  if (isSpace(char)) {
    let end = at + 1;
    while (isSpace(text.charAt(end))) end += 1;
    return { kind: 'space', start: at, end };
  }
  const barEnd = barSignEnd(text, at);
  if (barEnd > at) return barLineAt(text, at, barEnd);
  if ('zxyZX'.includes(char)) return restAt(text, at);
  if (isShortMark(char)) return { kind: 'shortMark', mark: char, start: at, end: at + 1 };
  return signAt(text, at, char) ?? { kind: 'unknown', text: char, start: at, end: at + 1 };
};

/** All signs of a music line in order; together they cover it without gaps. Runs of characters that mean nothing are one. */
export const scanMusic = (text: string): readonly Token[] => {
  const tokens: Token[] = [];
  let inOutdatedChord = false;
  for (let at = 0; at < text.length; ) {
    let token = tokenAt(text, at);
    if (text.charAt(at) === '+') {
      if (inOutdatedChord) token = { kind: 'chordClose', num: 1, den: 1, start: at, end: at + 1 };
      inOutdatedChord = token.kind === 'chordOpen';
    }
    const before = tokens.at(-1);
    if (token.kind === 'unknown' && before?.kind === 'unknown') {
      tokens[tokens.length - 1] = { ...before, text: before.text + token.text, end: token.end };
    } else tokens.push(token);
    at = token.end;
  }
  return tokens;
};
