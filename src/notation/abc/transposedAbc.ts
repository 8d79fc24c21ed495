import type { Span } from '../../core/index.ts';
import {
  chromaOf,
  type Interval,
  isOctaves,
  type Key,
  type PitchClass,
  pitchAtStaffStep,
  readChord,
  STEPS,
  type Step,
  staffStepOf,
  transposedKey,
  transposedNote,
  transposedPitch,
} from '../../music/index.ts';
import { readKey, writeKey } from './keyField.ts';
import { fieldCodeOf, fieldTextOf, type Line, linesOf } from './lines.ts';
import { scanMusic } from './scanner.ts';
import type { Token } from './token.ts';

/** A text with one of its tunes moved, or why it can't be. */
export type TransposedAbc =
  | {
      readonly kind: 'transposed';
      readonly text: string;
      /** Written fingers, left out: in another key they are others. */
      readonly fingersLeftOut: number;
    }
  | { readonly kind: 'problem'; readonly message: string };

/** A stretch of the text and what takes its place. */
interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

const SIGNS: Readonly<Record<number, string>> = { [-2]: '__', [-1]: '_', 0: '=', 1: '^', 2: '^^' };

/** Accidental, fraction of a microtone, letter, octave marks, length. */
const NOTE = /^(\^{1,3}|_{1,3}|=)?([\d/]*)([A-Ga-g])([,']*)(.*)$/;

const letterIn = (step: Step, octave: number): string =>
  octave >= 5 ? step.toLowerCase() + "'".repeat(octave - 5) : step + ','.repeat(4 - octave);

/** A note's text moved; a note without a sign stays so, because key and bar move with it. */
const movedNote = (raw: string, token: Token & { readonly kind: 'note' }, interval: Interval): string => {
  const [, sign = '', fraction = '', , , length = ''] = NOTE.exec(raw) ?? [];
  const { step, octave, alter } = token;
  if (alter === null) {
    // The letter moves as its line or space does, whatever sign it has from key or bar.
    const place = pitchAtStaffStep(staffStepOf({ step, octave, alter: 0 }) + interval.steps, 0);
    return `${letterIn(place.step, place.octave)}${length}`;
  }
  const moved = transposedPitch({ step, octave, alter }, interval);
  return `${sign === '' ? '' : SIGNS[moved.alter]}${fraction}${letterIn(moved.step, moved.octave)}${length}`;
};

const signText = ({ alter }: PitchClass): string => (alter > 0 ? '#'.repeat(alter) : 'b'.repeat(-alter));

/** A chord's root with one sign at most. */
const simplyNamed = (note: PitchClass): PitchClass => {
  if (Math.abs(note.alter) < 2) return note;
  const chroma = chromaOf(note);
  const step = STEPS.find((s) => chromaOf({ step: s, alter: 0 }) === chroma);
  return step === undefined ? note : { step, alter: 0 };
};

const movedName = (letter: string, sign: string, interval: Interval): string => {
  const alter = sign === '#' || sign === '♯' ? 1 : sign === '' ? 0 : -1;
  const moved = simplyNamed(transposedNote({ step: letter.toUpperCase() as Step, alter }, interval));
  const name = letter === letter.toLowerCase() ? moved.step.toLowerCase() : moved.step;
  return name + signText(moved);
};

/** What stands between quotes: a chord symbol is moved, other words stay. */
const movedQuote = (text: string, interval: Interval): string => {
  if (readChord(text) === null) return text;
  return text
    .replace(/([A-G])([#b♯♭]?)/, (_, letter: string, sign: string) => movedName(letter, sign, interval))
    .replace(
      /\/([A-Ga-g])([#b♯♭]?)/,
      (_, letter: string, sign: string) => `/${movedName(letter, sign, interval)}`,
    );
};

const movedAccidentals = (word: string, interval: Interval): string =>
  word.replaceAll(/(__|_|=|\^\^|\^)([A-Ga-g])/g, (_, sign: string, letter: string) => {
    const alter = sign === '=' ? 0 : sign.startsWith('^') ? sign.length : -sign.length;
    const moved = transposedNote(
      { step: letter.toUpperCase() as Step, alter: alter as PitchClass['alter'] },
      interval,
    );
    return `${SIGNS[moved.alter]}${letter === letter.toLowerCase() ? moved.step.toLowerCase() : moved.step}`;
  });

const isSameKey = (a: Key | null, b: Key): boolean =>
  a !== null &&
  a.signature === b.signature &&
  a.mode === b.mode &&
  a.tonic?.step === b.tonic?.step &&
  a.tonic?.alter === b.tonic?.alter &&
  STEPS.every((step) => a.accidentals[step] === b.accidentals[step]);

/** The value of a `K:` moved, spelled as it was where that can be; null: there is no such key. */
const movedKeyText = (value: string, interval: Interval): string | null => {
  const { key, clefWords } = readKey(value);
  if (key === null || isOctaves(interval)) return value;
  const moved = transposedKey(key, interval);
  if (moved === null) return null;
  const named = value.replace(/^([A-Ga-g])([#b♯♭]?)/, (_, letter: string, sign: string) =>
    movedName(letter, sign, interval),
  );
  const spelled = named
    .split(/(\s+)/)
    .map((word) => (/^(?:(?:__|_|=|\^\^|\^)[A-Ga-g])+$/.test(word) ? movedAccidentals(word, interval) : word))
    .join('');
  if (isSameKey(readKey(spelled).key, moved)) return spelled;
  return [writeKey(moved), ...clefWords].join(' ');
};

/** Collects the changes of one tune's text. */
interface Work {
  readonly interval: Interval;
  readonly edits: Edit[];
  fingers: number;
  /** A key that there is not. */
  noKey: string | null;
}

const moveKey = (work: Work, value: string, start: number): void => {
  const moved = movedKeyText(value, work.interval);
  if (moved === null) work.noKey ??= value;
  else if (moved !== value) work.edits.push({ start, end: start + value.length, text: moved });
};

/** A finger in a decoration: "!3!". Source: ABC standard 2.1, section 4.14. */
const isFinger = (token: Token): boolean => token.kind === 'decoration' && /^[0-5]$/.test(token.name);

/** Moves what stands in a stretch of music. */
const moveMusic = (work: Work, text: string, offset: number): void => {
  for (const token of scanMusic(text)) {
    const raw = text.slice(token.start, token.end);
    const put = (moved: string): void => {
      if (moved !== raw)
        work.edits.push({ start: offset + token.start, end: offset + token.end, text: moved });
    };
    if (token.kind === 'note') put(movedNote(raw, token, work.interval));
    else if (token.kind === 'quoted' && token.closed) put(`"${movedQuote(raw.slice(1, -1), work.interval)}"`);
    else if (isFinger(token) && !isOctaves(work.interval)) {
      work.fingers += 1;
      put('');
    } else if (token.kind === 'field' && token.code === 'K') {
      const value = raw.slice(3, token.closed ? -1 : undefined);
      const lead = value.length - value.trimStart().length;
      moveKey(work, value.trim(), offset + token.start + 3 + lead);
    }
  }
};

const moveLine = (work: Work, line: Line, inHeader: boolean): void => {
  if (line.text.startsWith('%')) return;
  const code = fieldCodeOf(line.text, inHeader);
  if (code === null) {
    if (!inHeader) moveMusic(work, line.text, line.start);
    return;
  }
  const { value, start } = fieldTextOf(line);
  if (code === 'K') moveKey(work, value, start);
  else if (code === 'm' || (code === 's' && !inHeader)) moveMusic(work, value, start);
};

const withEdits = (text: string, edits: readonly Edit[]): string => {
  let at = 0;
  let made = '';
  for (const edit of edits.toSorted((a, b) => a.start - b.start)) {
    made += text.slice(at, edit.start) + edit.text;
    at = edit.end;
  }
  return made + text.slice(at);
};

/**
 * A text in ABC with one of its tunes moved by an interval: notes, grace notes, keys, chord symbols, macros.
 *
 * Everything else stays as it is written, spaces and remarks too. A note without a sign stays without one, because its key
 * and its bar's signs move with it; a sign that is written stays written. Written fingers are left out, unless the tune is
 * moved by octaves.
 * @param span - of the tune in the text, as `readAbc` gives it
 * @returns a problem where a key would need more than seven sharps or flats
 */
export const transposedAbc = (text: string, span: Span, interval: Interval): TransposedAbc => {
  const work: Work = { interval, edits: [], fingers: 0, noKey: null };
  let inHeader = true;
  let inText = false;
  for (const line of linesOf(text)) {
    if (line.start < span.start || line.start > span.end) continue;
    if (/^%%begin(?:text|ps|svg)/.test(line.text)) inText = true;
    if (!inText) moveLine(work, line, inHeader);
    if (/^%%end(?:text|ps|svg)/.test(line.text)) inText = false;
    if (inHeader && fieldCodeOf(line.text, true) === 'K') inHeader = false;
  }
  if (work.noKey !== null)
    return {
      kind: 'problem',
      message: `K:${work.noKey} would need more than seven sharps or flats there. Choose the key with the other name.`,
    };
  return { kind: 'transposed', text: withEdits(text, work.edits), fingersLeftOut: work.fingers };
};
