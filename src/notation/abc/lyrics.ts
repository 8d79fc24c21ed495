import type { Span } from '../../core/index.ts';
import { decorate } from './placing.ts';
import type { Reading } from './reading.ts';
import { decodeText, encodeText } from './text.ts';

/** Signs that steer the words of a `w:` line; a backslash makes them letters. */
const LYRIC_SIGNS = '-_*|~';

/** A syllable as it is written in a `w:` line. */
export const encodeLyric = (lyric: string | null): string => {
  if (lyric === null || lyric === '') return '*';
  if (lyric === '_') return '_';
  const joined = lyric.length > 1 && lyric.endsWith('-');
  const body = encodeText(joined ? lyric.slice(0, -1) : lyric);
  const text = body.replaceAll(/[-_*|~]/g, (sign) => `\\${sign}`).replaceAll(' ', '~');
  return joined ? `${text}-` : text;
};

/** One step through a line of words: a syllable for the next note, no syllable, or on to the next bar. */
type Step =
  | { readonly kind: 'syllable'; readonly text: string }
  | { readonly kind: 'skip' }
  | { readonly kind: 'bar' };

/**
 * Cuts a `w:` line into steps: `-` ends a syllable, `_` holds it, `*` skips a note, `~` joins words, `|` goes to the next bar.
 * @see Source: ABC standard 2.1, section 5.1 "Alignment"
 */
const stepsOf = (text: string): readonly Step[] => {
  const steps: Step[] = [];
  let syllable = '';
  const flush = (): void => {
    if (syllable !== '') steps.push({ kind: 'syllable', text: decodeText(syllable).trim() });
    syllable = '';
  };
  for (let at = 0; at < text.length; at += 1) {
    const char = text.charAt(at);
    if (char === '\\' && at + 1 < text.length) {
      at += 1;
      const char = text.charAt(at);
      syllable += LYRIC_SIGNS.includes(char) ? char : `\\${char}`;
    } else if (char === ' ' || char === '\t') flush();
    else if (char === '-') {
      if (syllable === '') steps.push({ kind: 'skip' });
      else syllable += '-';
      flush();
    } else if (char === '_') {
      flush();
      steps.push({ kind: 'syllable', text: '_' });
    } else if (char === '*') {
      flush();
      steps.push({ kind: 'skip' });
    } else if (char === '|') {
      flush();
      steps.push({ kind: 'bar' });
    } else syllable += char === '~' ? ' ' : char;
  }
  flush();
  return steps;
};

/** The words of a verse as a line of text. */
const plainWords = (steps: readonly Step[]): string =>
  steps
    .flatMap((step) => (step.kind === 'syllable' && step.text !== '_' ? [step.text] : []))
    .join(' ')
    .replaceAll('- ', '');

/** Reads a `w:` line under the line of music above it; a second verse is kept among the words (`W:`) of the tune. */
export const readLyrics = (r: Reading, text: string, span: Span): void => {
  if (r.lineNotes.length === 0) {
    r.problems.add('lyrics-without-music', 'These words stand under no music.', span);
    return;
  }
  r.verses += 1;
  if (r.verses > 1) {
    r.fields.push({ code: 'W', value: plainWords(stepsOf(text)) });
    return;
  }
  let next = 0;
  let bar = r.lineNotes[0]?.bar ?? 0;
  let left = 0;
  for (const step of stepsOf(text)) {
    if (step.kind === 'bar') {
      while (next < r.lineNotes.length && r.lineNotes[next]?.bar === bar) next += 1;
      bar = r.lineNotes[next]?.bar ?? bar + 1;
      continue;
    }
    const note = r.lineNotes[next];
    if (note === undefined) {
      if (step.kind === 'syllable') left += 1;
      continue;
    }
    bar = note.bar;
    if (step.kind === 'syllable' && step.text !== '') note.event.lyric = step.text;
    next += 1;
  }
  if (left > 0) r.problems.add('lyrics-left-over', `${left} syllables have no note.`, span);
};

/**
 * Reads an `s:` line: chord symbols, annotations and decorations for the notes of the line above it.
 * @see Source: ABC standard 2.1, section 4.15 "Symbol lines"
 */
export const readSymbols = (r: Reading, text: string, span: Span): void => {
  let next = 0;
  let bar = r.lineNotes[0]?.bar ?? 0;
  for (const word of text.match(/"[^"]*"|[!+][^!+\s]{1,40}[!+]|\||\*|\S/g) ?? []) {
    if (word === '|') {
      while (next < r.lineNotes.length && r.lineNotes[next]?.bar === bar) next += 1;
      bar = r.lineNotes[next]?.bar ?? bar + 1;
      continue;
    }
    const note = r.lineNotes[next];
    next += 1;
    if (note === undefined) continue;
    bar = note.bar;
    if (word.startsWith('"')) textOver(note, decodeText(word.slice(1, -1)), span);
    else if (word.length > 2) decorate(note.event, word.slice(1, -1));
  }
};

const textOver = (note: Reading['lineNotes'][number], text: string, span: Span): void => {
  const places = { '^': 'above', _: 'below', '<': 'left', '>': 'right', '@': 'free' } as const;
  const sign = text.charAt(0);
  const place = Object.hasOwn(places, sign) ? places[sign as keyof typeof places] : null;
  if (place === null) note.barDraft.chords.push({ at: note.at, text, span });
  else note.barDraft.annotations.push({ at: note.at, place, text: text.slice(1) });
};
