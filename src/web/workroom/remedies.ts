import type { Diagnostic } from '../../core/index.ts';
import { wording } from '../wording/index.ts';
import type { Remedy } from './messages.ts';

const { remedies } = wording;

/** Signs that do no good where they stand: without them the problem is gone. */
const TAKEN_OUT = new Set([
  'tie-leads-nowhere',
  'slur-unopened',
  'slur-unclosed',
  'chord-unopened',
  'grace-unopened',
  'sign-unknown',
]);
/** What they are. */
const SIGN = /^(?:[-()\]}]|[^A-Ga-gxyzXZ\s])/;

/** Inserts a line behind the one in which an offset lies. */
const lineBehind = (text: string, offset: number, line: string, label: string): Remedy => {
  const end = text.indexOf('\n', offset);
  const at = end === -1 ? text.length : end + 1;
  return { label, from: at, to: at, insert: end === -1 ? `\n${line}\n` : `${line}\n` };
};

/** The change that takes a problem away where there is only one sensible; null where the teacher has to decide. */
export const remedyOf = (text: string, { code, span }: Diagnostic): Remedy | null => {
  if (code === 'no-tune' && /^K:/m.test(text))
    return { label: remedies.addNumber, from: 0, to: 0, insert: 'X:1\n' };
  if (span === undefined) return null;
  // A tie is complained of at its note, everything else at the sign itself.
  const sign = code === 'tie-leads-nowhere' ? span.end : span.start;
  if (TAKEN_OUT.has(code) && SIGN.test(text.slice(sign)))
    return { label: remedies.takeOut(text.charAt(sign)), from: sign, to: sign + 1, insert: '' };
  if (code === 'title-missing') return lineBehind(text, span.start, 'T:Untitled', remedies.addTitle);
  if (code === 'number-missing' && /X:\s*$/.test(text.slice(0, span.start)))
    return { label: remedies.addNumber, from: span.start, to: span.start, insert: '1' };
  return null;
};
