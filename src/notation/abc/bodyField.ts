import type { Span } from '../../core/index.ts';
import { readKey } from './keyField.ts';
import { readMetre, readUnit } from './metreField.ts';
import type { Reading } from './reading.ts';
import { readTempo } from './tempoField.ts';
import { decodeText } from './text.ts';
import { readMacro, readUserSymbol } from './userField.ts';

/** Reads a `K:` in header or body; the key in force stays where it says none. */
export const keyField = (r: Reading, value: string, span: Span): void => {
  const read = readKey(value);
  switch (read.problem) {
    case 'unreadable':
      r.problems.add('key-unreadable', `“${value}” is no key.`, span);
      break;
    case 'tooManyAccidentals':
      r.problems.add(
        'key-beyond-seven',
        `The key “${value}” would need more than seven sharps or flats.`,
        span,
      );
      break;
    case 'unknownMode':
      r.problems.add(
        'mode-unknown',
        `“${read.unread.join(' ')}” is no mode; the key is read as major.`,
        span,
      );
      break;
    case 'none':
      if (read.unread.length > 0) {
        r.problems.add('key-words-unread', `In this key “${read.unread.join(' ')}” is not understood.`, span);
      }
      break;
    default:
      read.problem satisfies never;
  }
  const changing = read.clefWords.filter((w) => !/^(?:clef=)?(?:treble|none)$/i.test(w));
  const shifting = changing.filter((w) => !/^(?:stafflines|style|name|nm|sname|snm|stem)=/i.test(w));
  if (shifting.length > 0) {
    r.problems.add('clef-or-transposition-ignored', `“${shifting.join(' ')}” is not followed.`, span);
  }
  if (read.key !== null) r.key = read.key;
};

/** Reads an `M:`; returns whether it could be read. */
export const metreField = (r: Reading, value: string, span: Span): boolean => {
  const metre = readMetre(value);
  if (metre === null) {
    r.problems.add('metre-unreadable', `“${value}” is no metre.`, span);
    return false;
  }
  r.metre = metre;
  return true;
};

/** Reads an `L:`. */
export const unitField = (r: Reading, value: string, span: Span): void => {
  const unit = readUnit(value);
  if (unit === null) r.problems.add('unit-unreadable', `“${value}” is no note length.`, span);
  else r.unit = unit;
};

/** Reads a `Q:`; null when it says nothing that can be read. */
const tempoField = (r: Reading, value: string, span: Span): Reading['tempo'] => {
  const { tempo, outdated } = readTempo(value, r.unit);
  if (tempo === null) r.problems.add('tempo-unreadable', `“${value}” is no tempo.`, span);
  else if (outdated) {
    r.problems.add(
      'tempo-without-note',
      'This tempo does not say which note it counts; the unit note length is taken.',
      span,
    );
  }
  return tempo;
};

/** Switches the voice: the first is the tune, the others are passed over. */
const voiceField = (r: Reading, value: string, span: Span): void => {
  const name = value.trim().split(/\s+/)[0] ?? '';
  r.firstVoice ??= name;
  r.skipping = name !== r.firstVoice;
  if (r.skipping && !r.otherVoices.has(name)) r.otherVoices.set(name, span);
};

const isBeginning = (r: Reading): boolean => r.bars.length === 0 && r.bar.events.length === 0;

/** Fields of the body that speak about the whole tune although they stand behind `K:`. */
const WHOLE_TUNE = 'ABCDFGHNORSTWZ';

const keepField = (r: Reading, code: string, value: string): void => {
  const field = { code, value: decodeText(value) };
  if (code === 'W' || (isBeginning(r) && WHOLE_TUNE.includes(code))) r.fields.push(field);
  else r.bar.fields.push({ ...field, at: r.bar.events.length });
};

/**
 * Reads a field in the body of a tune, on a line of its own or between brackets.
 *
 * Key, metre and tempo take hold at once where the bar has no notes yet; inside a bar the change is kept as a field.
 * @see Source: ABC standard 2.1, section 3.2 "Use of fields within the tune body"
 */
export const bodyField = (r: Reading, code: string, value: string, span: Span): void => {
  // A part's name holds for all voices.
  if (r.skipping && code !== 'V' && code !== 'P') return;
  const fresh = r.bar.events.length === 0;
  switch (code) {
    case 'K':
      keyField(r, value, span);
      if (fresh) r.bar.key = r.key;
      else r.bar.fields.push({ code, value, at: r.bar.events.length });
      break;
    case 'M':
      if (!metreField(r, value, span)) break;
      if (fresh) r.bar.metre = r.metre;
      else r.bar.fields.push({ code, value, at: r.bar.events.length });
      break;
    case 'L':
      unitField(r, value, span);
      break;
    case 'Q': {
      const tempo = tempoField(r, value, span);
      if (tempo === null) break;
      if (isBeginning(r)) r.tempo = tempo;
      else if (fresh) r.bar.tempo = tempo;
      else r.bar.fields.push({ code, value, at: r.bar.events.length });
      break;
    }
    case 'P':
      if (fresh) r.bar.partLabel = partLabelOf(value);
      else r.bar.fields.push({ code, value: decodeText(value), at: r.bar.events.length });
      break;
    case 'V':
      voiceField(r, value, span);
      break;
    case 'U':
      readUserSymbol(r, value, span);
      break;
    case 'm':
      readMacro(r, value, span);
      break;
    case 'X':
    case 'w':
    case 's':
      r.problems.add('field-misplaced', `The field ${code}: means nothing here; it is left out.`, span);
      break;
    default:
      keepField(r, code, value);
  }
};

const partLabelOf = (value: string): string | null => {
  const label = decodeText(value).trim().replaceAll('/', '-');
  return label === '' ? null : label;
};
