import type { Span, WholeNotes } from '../../../core/index.ts';
import {
  type Address,
  addressKey,
  type Bar,
  type Event,
  type Note,
  placedEvents,
} from '../../../score/index.ts';
import type { WrittenSigns } from '../readTune.ts';
import { scanMusic } from '../scanner.ts';
import type { Token } from '../token.ts';
import { type EditProblem, problem } from './noteEdit.ts';
import type { Source } from './plan.ts';

/** A note or rest that was pointed at, and where it is written. */
export interface WrittenEvent {
  readonly kind: 'written';
  readonly part: string;
  readonly bar: number;
  /** Which event of its bar it is. */
  readonly index: number;
  readonly onset: WholeNotes;
  readonly event: Event;
  readonly barRead: Bar;
  readonly span: Span;
  /** The signs of its own span, with offsets in the whole text. */
  readonly tokens: readonly Token[];
  readonly signs: WrittenSigns;
}

/** The same, when it is a note. */
export type WrittenNote = WrittenEvent & { readonly event: Note };

const NO_SIGNS: WrittenSigns = { decorations: [], texts: [], graces: [], opens: [], closes: [] };

const tokensIn = (text: string, span: Span): readonly Token[] =>
  scanMusic(text.slice(span.start, span.end)).map((token) => ({
    ...token,
    start: token.start + span.start,
    end: token.end + span.start,
  }));

const isWhole = (tokens: readonly Token[]): boolean => {
  const [first] = tokens;
  if (first?.kind === 'chordOpen') return tokens.at(-1)?.kind === 'chordClose';
  return tokens.length === 1 && ['note', 'rest', 'barRest'].includes(first?.kind ?? '');
};

/** The event at an address; a grace note or chord tone gives its note. */
export const eventAt = ({ text, tune }: Source, at: Address): WrittenEvent | EditProblem => {
  const bar = tune.score.parts.find((part) => part.label === at.part)?.bars[at.bar];
  const placed = bar === undefined ? [] : placedEvents(bar);
  const key = addressKey({ part: at.part, bar: at.bar, onset: at.onset });
  const index = placed.findIndex(({ onset }) => onset.num === at.onset.num && onset.den === at.onset.den);
  const found = placed[index];
  const span = tune.spans.get(key);
  if (bar === undefined || found === undefined || span === undefined)
    return problem('There is no note any more where this was pointed at.');
  const tokens = tokensIn(text, span);
  if (!isWhole(tokens))
    return problem('This note is written by a macro (m:). Write it out in the text to change it.');
  const signs = tune.signs.get(key) ?? NO_SIGNS;
  return {
    kind: 'written',
    part: at.part,
    bar: at.bar,
    index,
    onset: found.onset,
    event: found.event,
    barRead: bar,
    span,
    tokens,
    signs,
  };
};

/** The note at an address. */
export const noteAt = (source: Source, at: Address): WrittenNote | EditProblem => {
  const found = eventAt(source, at);
  if (found.kind === 'problem') return found;
  const { event } = found;
  if (event.kind === 'rest') return problem('This is a rest. Point at a note.');
  return { ...found, event };
};

/** Where a sign is put that stands before the note and, without a gap, before those of its signs. */
export const placeBefore = (start: number, signs: readonly Span[]): number => {
  let at = start;
  for (;;) {
    const before = signs.find((span) => span.end === at && span.start < at);
    if (before === undefined) return at;
    at = before.start;
  }
};
