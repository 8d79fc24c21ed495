import type { Span } from '../../core/index.ts';
import { NO_KEY } from '../../music/index.ts';
import { type AccidentalScope, accidentalScopeIn, accidentalsIn } from './accidentals.ts';
import { bodyField, keyField, metreField, unitField } from './bodyField.ts';
import { SHORT_MARKS } from './decorations.ts';
import { finishTune } from './finish.ts';
import { fieldCodeOf, fieldTextOf, isBlank, type Line } from './lines.ts';
import { readLyrics, readSymbols } from './lyrics.ts';
import { readMusicLine } from './musicLine.ts';
import { problemList } from './problems.ts';
import { type Reading, startReading } from './reading.ts';
import type { ReadTune } from './readTune.ts';
import { readTempo } from './tempoField.ts';
import { decodeText } from './text.ts';
import { expandMacros, readMacro, readUserSymbol } from './userField.ts';

/** A field's line with the `+:` lines that continue it put behind. */
interface FieldLine {
  readonly code: string;
  readonly value: string;
  readonly span: Span;
  readonly comment: string | null;
}

const fieldLine = (line: Line, code: string, continuing: readonly Line[]): FieldLine => {
  const first = fieldTextOf(line);
  let { value, end } = first;
  for (const next of continuing) {
    const more = fieldTextOf(next);
    value = `${value} ${more.value}`.trim();
    end = more.end;
  }
  return { code, value, span: { start: first.start, end }, comment: first.comment };
};

/** The `+:` lines behind line `at`. */
const continuingLines = (lines: readonly Line[], at: number): readonly Line[] => {
  let end = at + 1;
  while (end < lines.length && lines[end]?.text.startsWith('+:') === true) end += 1;
  return lines.slice(at + 1, end);
};

/** What a header has said so far that is taken up only when it is complete. */
interface Header {
  number: number | null;
  partOrder: FieldLine | null;
  tempo: FieldLine | null;
  unit: FieldLine | null;
  titled: boolean;
  history: boolean;
}

const headerField = (r: Reading, header: Header, field: FieldLine): void => {
  header.history = field.code === 'H';
  switch (field.code) {
    case 'X':
      header.number = /^\d{1,9}/.test(field.value) ? Number(/^\d{1,9}/.exec(field.value)?.[0]) : null;
      if (header.number === null) r.problems.add('number-missing', 'This tune has no number.', field.span);
      break;
    case 'M':
      metreField(r, field.value, field.span);
      r.bar.metre = r.metre;
      break;
    case 'L':
      header.unit = field;
      break;
    case 'Q':
      header.tempo = field;
      break;
    case 'P':
      header.partOrder = field;
      break;
    case 'K':
      keyField(r, field.value, field.span);
      r.bar.key = r.key;
      break;
    case 'U':
      readUserSymbol(r, field.value, field.span);
      break;
    case 'm':
      readMacro(r, field.value, field.span);
      break;
    case 'V':
      r.firstVoice ??= field.value.split(/\s+/)[0] ?? '';
      break;
    default:
      if (field.code === 'T' && field.value !== '') header.titled = true;
      r.fields.push({ code: field.code, value: decodeText(field.value) });
  }
  if (field.comment !== null) r.fields.push({ code: '%', value: field.comment });
};

const directive = (r: Reading, text: string): void => {
  const scope = accidentalScopeIn(text);
  if (scope !== null) r.accidentals = accidentalsIn(scope);
};

/** Keeps a line that begins with a percent sign. */
const keepComment = (r: Reading, line: Line, inHeader: boolean): void => {
  const isDirective = line.text.startsWith('%%');
  const field = { code: isDirective ? '%%' : '%', value: line.text.slice(isDirective ? 2 : 1).trim() };
  if (isDirective) directive(r, field.value);
  if (inHeader) r.fields.push(field);
  else if (!r.skipping) r.bar.fields.push({ ...field, at: r.bar.events.length });
};

/** Reads the header; returns the index of the first line of the body. */
const readHeader = (r: Reading, header: Header, lines: readonly Line[]): number => {
  for (let at = 0; at < lines.length; at += 1) {
    const line = lines[at];
    if (line === undefined) break;
    if (line.text.startsWith('%')) {
      keepComment(r, line, true);
      continue;
    }
    const code = fieldCodeOf(line.text, true);
    if (code === '+') continue;
    if (code === null) {
      const last = r.fields.at(-1);
      if (header.history && last !== undefined) {
        r.fields[r.fields.length - 1] = {
          ...last,
          value: `${last.value} ${decodeText(line.text.trim())}`.trim(),
        };
        continue;
      }
      const span = { start: line.start, end: line.start + line.text.length };
      r.problems.add(
        'key-missing',
        'The music begins before the header says its key; it is read without sharps or flats.',
        span,
      );
      return at;
    }
    headerField(r, header, fieldLine(line, code, continuingLines(lines, at)));
    if (code === 'K') return at + 1 + continuingLines(lines, at).length;
  }
  return lines.length;
};

/** Unit note length and tempo count in each other and in the metre, wherever in the header they stand. */
const settleHeader = (
  r: Reading,
  header: Header,
  fileUnit: Reading['unit'] | null,
  defaultUnit: Reading['unit'],
): void => {
  r.unit = fileUnit ?? defaultUnit;
  if (header.unit !== null) unitField(r, header.unit.value, header.unit.span);
  if (header.tempo !== null) {
    const { tempo, outdated } = readTempo(header.tempo.value, r.unit);
    r.tempo = tempo;
    if (tempo === null)
      r.problems.add('tempo-unreadable', `“${header.tempo.value}” is no tempo.`, header.tempo.span);
    else if (outdated) {
      r.problems.add(
        'tempo-without-note',
        'This tempo does not say which note it counts; the unit note length is taken.',
        header.tempo.span,
      );
    }
  }
};

const bodyLine = (r: Reading, lines: readonly Line[], at: number, line: Line): void => {
  const code = fieldCodeOf(line.text);
  if (code === null) {
    readMusicLine(r, expandMacros(r, line));
    return;
  }
  if (code === '+') return;
  const field = fieldLine(line, code, continuingLines(lines, at));
  if (code === 'w') {
    if (!r.skipping) readLyrics(r, field.value, field.span);
  } else if (code === 's') {
    if (!r.skipping) readSymbols(r, field.value, field.span);
  } else if (code === 'I' && accidentalScopeIn(field.value) !== null) {
    directive(r, field.value);
    bodyField(r, code, field.value, field.span);
  } else bodyField(r, code, field.value, field.span);
  if (field.comment !== null && !r.skipping) {
    r.bar.fields.push({ code: '%', value: field.comment, at: r.bar.events.length });
  }
};

const readFileHeader = (
  r: Reading,
  lines: readonly Line[],
  ownCodes: ReadonlySet<string>,
): Reading['unit'] | null => {
  const header: Header = {
    number: null,
    partOrder: null,
    tempo: null,
    unit: null,
    titled: false,
    history: false,
  };
  lines.forEach((line, at) => {
    const code = fieldCodeOf(line.text);
    if (line.text.startsWith('%%')) keepComment(r, line, true);
    else if (code !== null && 'ABCDFGHILMNORSUZmr'.includes(code)) {
      if (ownCodes.has(code) && code !== 'U' && code !== 'm' && code !== 'M' && code !== 'L') return;
      headerField(r, header, fieldLine(line, code, continuingLines(lines, at)));
    }
  });
  if (header.unit === null) return null;
  unitField(r, header.unit.value, header.unit.span);
  return r.unit;
};

/**
 * Reads one tune.
 * @param lines - from its `X:` line to the line before the empty line that ends it
 * @param fileHeader - lines at the file's start that hold for all tunes
 */
export const readTune = (
  lines: readonly Line[],
  fileHeader: readonly Line[],
  defaults: TuneDefaults,
): ReadTune => {
  const problems = problemList();
  const scope: AccidentalScope = 'pitch';
  const r = startReading(
    {
      problems,
      key: NO_KEY,
      metre: { kind: 'free' },
      unit: defaults.unitOf({ kind: 'free' }),
      tempo: null,
      shortMarks: SHORT_MARKS,
      macros: [],
    },
    scope,
  );
  const body = lines.filter((line) => !isBlank(line));
  const ownCodes = new Set(body.map((line) => fieldCodeOf(line.text) ?? ''));
  const fileUnit = readFileHeader(r, fileHeader, ownCodes);
  const header: Header = {
    number: null,
    partOrder: null,
    tempo: null,
    unit: null,
    titled: false,
    history: false,
  };
  const from = readHeader(r, header, body);
  settleHeader(r, header, fileUnit, defaults.unitOf(r.metre));
  r.bar.metre = r.metre;
  r.bar.key = r.key;
  const unit = r.unit;
  for (let at = from; at < body.length && !r.full; at += 1) {
    const line = body[at];
    if (line === undefined) break;
    if (line.text.startsWith('%')) keepComment(r, line, false);
    else bodyLine(r, body, at, line);
  }
  const first = lines[0];
  const last = body.at(-1) ?? first;
  const span: Span = {
    start: first?.start ?? 0,
    end: last === undefined ? 0 : last.start + last.text.length,
  };
  if (!header.titled) problems.add('title-missing', 'This tune has no title.', firstLineSpan(first));
  return finishTune(r, {
    number: header.number ?? defaults.number,
    partOrder: header.partOrder,
    unit,
    unitWritten: header.unit !== null || fileUnit !== null,
    span,
  });
};

/** What a tune gets that it does not say itself. */
export interface TuneDefaults {
  readonly number: number;
  readonly unitOf: (metre: Reading['metre']) => Reading['unit'];
}

const firstLineSpan = (line: Line | undefined): Span =>
  line === undefined ? { start: 0, end: 0 } : { start: line.start, end: line.start + line.text.length };
