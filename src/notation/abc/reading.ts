import { add, type Rational, rational, type Span, type WholeNotes } from '../../core/index.ts';
import type { Key, Metre, Pitch } from '../../music/index.ts';
import type { BarLine, Field, Tempo } from '../../score/index.ts';
import type { AccidentalScope, Accidentals } from './accidentals.ts';
import { accidentalsIn } from './accidentals.ts';
import { type DraftBar, type DraftEvent, emptyBar } from './draft.ts';
import { FINEST_FRACTION, LONGEST_NOTE, LONGEST_TUNE, MOST_BARS } from './limits.ts';
import type { Problems } from './problems.ts';
import type { Token } from './token.ts';

/** Signs that were read and wait for the note that they belong to. */
export interface Waiting {
  graces: Pitch[];
  graceSpans: Span[];
  slashed: boolean;
  graceSpan: Span | null;
  /** Each group of grace notes with its braces. */
  graceGroups: Span[];
  opens: Span[];
  decorations: { readonly name: string; readonly span: Span }[];
  texts: { readonly text: string; readonly span: Span }[];
}

/** A tuplet whose notes are being read. */
export interface OpenTuplet {
  readonly actual: number;
  readonly normal: number;
  readonly count: number;
  readonly events: DraftEvent[];
  readonly span: Span;
}

/** What is kept while an overlay is read into a bar of its own. */
export interface Kept {
  readonly bar: DraftBar;
  readonly last: DraftEvent | null;
  readonly lastNote: DraftEvent | null;
  readonly tuplet: OpenTuplet | null;
}

/** A static or transposing macro. */
export interface Macro {
  readonly from: string;
  readonly to: string;
}

/** Everything that is in force while one tune is read. Mutable: one a tune, never shared. */
export interface Reading {
  readonly problems: Problems;
  accidentals: Accidentals;
  key: Key;
  metre: Metre;
  unit: WholeNotes;
  tempo: Tempo | null;
  readonly fields: Field[];
  readonly bars: DraftBar[];
  bar: DraftBar;
  waiting: Waiting;
  /** The note or rest read last, in whatever bar. */
  last: DraftEvent | null;
  lastNote: DraftEvent | null;
  /** A space, bar line or line end stood since the last event: no beam. */
  spaced: boolean;
  /** What broken rhythm does to the next event, and the length that its partner had. */
  broken: { readonly factor: Rational; readonly partner: Rational; readonly span: Span } | null;
  tuplet: OpenTuplet | null;
  slurs: { readonly event: DraftEvent; readonly span: Span }[];
  shortMarks: ReadonlyMap<string, string>;
  macros: Macro[];
  /** Notes of the line of music that `w:` and `s:` stand under, with the index of their bar. */
  lineNotes: {
    readonly event: DraftEvent;
    readonly bar: number;
    readonly barDraft: DraftBar;
    readonly at: number;
  }[];
  verses: number;
  continued: boolean;
  kept: Kept | null;
  overlays: number;
  /** Voice that is the tune; null before any `V:`. */
  firstVoice: string | null;
  otherVoices: Map<string, Span>;
  skipping: boolean;
  /** Least common denominator of all lengths so far, and their sum in whole notes. */
  grain: number;
  total: number;
  full: boolean;
}

/** Nothing waits. */
export const nothingWaiting = (): Waiting => ({
  graces: [],
  graceSpans: [],
  slashed: false,
  graceSpan: null,
  graceGroups: [],
  opens: [],
  decorations: [],
  texts: [],
});

/** Whether nothing waits for the next note. */
export const isNothing = (waiting: Waiting): boolean =>
  waiting.graceSpan === null &&
  waiting.opens.length === 0 &&
  waiting.decorations.length === 0 &&
  waiting.texts.length === 0;

/** Starts reading a tune with these settings in force. */
export const startReading = (
  start: Pick<Reading, 'problems' | 'key' | 'metre' | 'unit' | 'tempo' | 'shortMarks' | 'macros'>,
  scope: AccidentalScope,
): Reading => ({
  ...start,
  accidentals: accidentalsIn(scope),
  fields: [],
  bars: [],
  bar: emptyBar(start.key, start.metre),
  waiting: nothingWaiting(),
  last: null,
  lastNote: null,
  spaced: true,
  broken: null,
  tuplet: null,
  slurs: [],
  lineNotes: [],
  verses: 0,
  continued: false,
  kept: null,
  overlays: 0,
  firstVoice: null,
  otherVoices: new Map(),
  skipping: false,
  grain: 1,
  total: 0,
  full: false,
});

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/** Whether a length can be added so that all sums of the tune stay exact; if so it is counted. */
export const admits = (r: Reading, length: Rational): boolean => {
  const grain = (r.grain / gcd(r.grain, length.den)) * length.den;
  const size = length.num / length.den;
  if (size > LONGEST_NOTE || grain > FINEST_FRACTION || r.total + size > LONGEST_TUNE) return false;
  r.grain = grain;
  r.total += size;
  return true;
};

/** Which of two lines for one place is the one to keep: the stronger. */
const STRENGTH: Readonly<Record<BarLine, number>> = {
  none: 0,
  single: 1,
  dotted: 2,
  invisible: 2,
  double: 3,
  startHeavy: 4,
  heavyDouble: 4,
  final: 5,
};

/** The bar is done; the next begins. */
export const pushBar = (r: Reading): void => {
  r.bars.push(r.bar);
  r.bar = emptyBar(r.key, r.metre);
  if (r.bars.length === MOST_BARS) {
    r.full = true;
    const end = r.bars.at(-1)?.end ?? 0;
    r.problems.add('too-many-bars', `The tune has more than ${MOST_BARS} bars; the rest is not read.`, {
      start: end,
      end,
    });
  }
};

/** The music read since an `&` sounded beside the melody: only its chord symbols are kept. */
export const endOverlay = (r: Reading): void => {
  const kept = r.kept;
  if (kept === null) return;
  let onset: Rational = rational(0);
  r.bar.events.forEach((event, i) => {
    for (const chord of r.bar.chords)
      if (chord.at === i) kept.bar.overlayChords.push({ onset, text: chord.text });
    onset = add(onset, event.length);
  });
  r.bar = kept.bar;
  r.last = kept.last;
  r.lastNote = kept.lastNote;
  r.tuplet = kept.tuplet;
  r.kept = null;
};

/** A bar line. One that stands beside another (a line's first and the last line's end) joins it. */
export const closeBar = (r: Reading, token: Token & { readonly kind: 'barLine' }, span: Span): void => {
  endOverlay(r);
  const { sign, passes } = token;
  const bar = r.bar.events.length > 0 ? r.bar : r.bars.at(-1);
  if (bar !== undefined) {
    bar.repeatEnd = Math.max(bar.repeatEnd, sign.repeatEnd);
    if (STRENGTH[sign.line] > STRENGTH[bar.line]) bar.line = sign.line;
    if (bar.repeatEnd > 0) bar.line = 'single';
    bar.end = span.end;
  }
  if (r.bar.events.length > 0) pushBar(r);
  r.bar.repeatStart = Math.max(r.bar.repeatStart, sign.repeatStart);
  if (passes !== null && passes.length > 0) r.bar.ending = passes;
  r.accidentals.clear();
  r.spaced = true;
};

/** A written line of music ends: a bar that is still open goes on in the next line. */
export const endMusicLine = (r: Reading): void => {
  endOverlay(r);
  if (r.bar.events.length > 0) {
    r.bar.lineEnd = true;
    pushBar(r);
  } else {
    const before = r.bars.at(-1);
    if (before !== undefined) before.lineEnd = true;
  }
  r.spaced = true;
};
