import {
  add,
  asWholeNotes,
  compare,
  divide,
  equals,
  formatRational,
  multiply,
  type Rational,
  rational,
  type Span,
  sum,
} from '../../core/index.ts';
import { barLengthOf, formatMetre, formatPitch, midiOf, type Pitch } from '../../music/index.ts';
import {
  addressKey,
  type Bar,
  barsOf,
  MOST_PLAYED_BARS,
  type PlacedBar,
  playedOrder,
  type Score,
  writtenLengthOf,
} from '../../score/index.ts';
import { MOST_PASSES } from './limits.ts';
import type { Problems } from './problems.ts';

/** Lowest open string and fourth finger on the highest, as MIDI numbers: G3 and B5. Common practice. */
const LOWEST_NOTE = 55;
const HIGHEST_IN_FIRST_POSITION = 83;

/** "6 quavers", "2 1/2 crotchets" in the metre's own note. */
const counted = (length: Rational, unit: number): string => {
  const n = divide(length, rational(1, unit));
  const whole = Math.floor(n.num / n.den);
  const rest = rational(n.num - whole * n.den, n.den);
  const number =
    rest.num === 0 ? `${whole}` : whole === 0 ? formatRational(rest) : `${whole} ${formatRational(rest)}`;
  const names: Readonly<Record<number, string>> = {
    1: 'semibreve',
    2: 'minim',
    4: 'crotchet',
    8: 'quaver',
    16: 'semiquaver',
  };
  const name = names[unit] ?? `1/${unit} note`;
  return `${number} ${name}${compare(n, rational(1)) > 0 ? 's' : ''}`;
};

const stopsSection = (bar: Bar): boolean =>
  bar.repeatEnd > 0 || bar.line === 'double' || bar.line === 'final' || bar.line === 'heavyDouble';

/** Whether a stretch of music ends with the bar at `at`. */
const endsStretch = (bars: readonly PlacedBar[], at: number): boolean => {
  const bar = bars[at];
  const next = bars[at + 1];
  if (bar === undefined || next === undefined) return true;
  return (
    stopsSection(bar.bar) || next.part !== bar.part || next.bar.ending !== null || next.bar.repeatStart > 0
  );
};

/** Lengths of the pick-ups that a bar at a stretch's end may leave room for. */
const pickupLengths = (bars: readonly PlacedBar[]): readonly Rational[] => {
  const lengths: Rational[] = [];
  for (const { bar } of bars) {
    if (bar.role !== 'pickup') continue;
    const length = writtenLengthOf(bar);
    if (!lengths.some((l) => equals(l, length))) lengths.push(length);
  }
  return lengths;
};

/** What a bar and the rests of it that follow last together: a bar may go on in the next line. */
const wholeLength = (bars: readonly PlacedBar[], at: number): Rational => {
  let total: Rational = rational(0);
  for (let i = at; i < bars.length; i += 1) {
    const bar = bars[i]?.bar;
    if (bar === undefined || (i > at && bar.role !== 'restOfBar')) break;
    total = add(total, writtenLengthOf(bar));
    if (bar.line !== 'none') break;
  }
  return total;
};

/** Warns where a bar is longer or shorter than its metre asks; a bar that leaves room for a pick-up is right. */
export const checkBars = (
  score: Score,
  spans: ReadonlyMap<string, Span>,
  problems: Problems,
  unitWritten: boolean,
): void => {
  const bars = barsOf(score);
  const pickups = pickupLengths(bars);
  let halves = 0;
  bars.forEach(({ bar, part, index }, at) => {
    const full = barLengthOf(bar.metre);
    const span = spans.get(`${part}/${index}`);
    if (full === null || span === undefined || bar.metre.kind === 'free' || bar.role === 'restOfBar') return;
    const length = wholeLength(bars, at);
    const order = compare(length, full);
    const { unit } = bar.metre;
    const name = bar.number === null ? 'This bar' : `Bar ${bar.number}`;
    const says = `${name} lasts ${counted(length, unit)}; a bar of ${formatMetre(bar.metre)} holds ${counted(full, unit)}.`;
    if (order > 0) problems.add('bar-too-long', says, span, missingLine(length, full));
    if (order < 0 && bar.role === 'full' && !isCompleted(bars, at, full, pickups)) {
      problems.add('bar-too-short', says, span);
    }
    if (equals(add(length, length), full)) halves += 1;
  });
  if (!unitWritten && halves * 2 > bars.length) sayUnit(score, spans, problems);
  checkLastBars(bars, spans, problems);
};

/** A bar of twice its length most likely lacks a bar line. */
const missingLine = (length: Rational, full: Rational): string | undefined => {
  const times = divide(length, full);
  return times.den === 1
    ? `It is ${times.num} bars long: ${times.num === 2 ? 'a bar line is' : 'bar lines are'} missing.`
    : undefined;
};

/** In metres shorter than 3/4 the unit note length is a sixteenth unless `L:` says otherwise, which many writers forget. */
const sayUnit = (score: Score, spans: ReadonlyMap<string, Span>, problems: Problems): void => {
  const first = spans.values().next().value;
  if (first === undefined) return;
  const unit = formatRational(score.unit);
  const double = formatRational(multiply(score.unit, rational(2)));
  problems.add(
    'unit-doubtful',
    `Most bars are half as long as ${formatMetre(score.metre)} asks: without L: the note length is ${unit} in this metre.`,
    first,
    `Write L:${double} in the header, if that is meant.`,
  );
};

/** A short bar is right where a pick-up, or the rest of the bar behind a repeat or double bar, completes it. */
const isCompleted = (
  bars: readonly PlacedBar[],
  at: number,
  full: Rational,
  pickups: readonly Rational[],
): boolean => {
  const bar = bars[at]?.bar;
  const next = bars[at + 1]?.bar;
  if (bar === undefined) return true;
  const length = writtenLengthOf(bar);
  if (next !== undefined && next.role !== 'full' && equals(add(length, writtenLengthOf(next)), full))
    return true;
  return endsStretch(bars, at) && pickups.some((pickup) => equals(add(length, pickup), full));
};

/** A part with a pick-up whose last bar before the repeat is full: played again, it has a pick-up's time too much. */
const checkLastBars = (
  bars: readonly PlacedBar[],
  spans: ReadonlyMap<string, Span>,
  problems: Problems,
): void => {
  let pickup: Rational | null = null;
  bars.forEach(({ bar, part, index }, at) => {
    const before = bars[at - 1];
    const begins =
      before === undefined || before.part !== part || stopsSection(before.bar) || bar.repeatStart > 0;
    if (begins && bar.ending === null) pickup = bar.role === 'pickup' ? writtenLengthOf(bar) : null;
    const full = barLengthOf(bar.metre);
    const span = spans.get(`${part}/${index}`);
    if (pickup === null || bar.repeatEnd === 0 || full === null || span === undefined) return;
    if (bar.metre.kind === 'free' || bar.role !== 'full' || !equals(writtenLengthOf(bar), full)) return;
    problems.add(
      'last-bar-full-with-pickup',
      `${bar.number === null ? 'This bar' : `Bar ${bar.number}`} is full, but the part goes back to a pick-up of ${counted(pickup, bar.metre.unit)}: the second time comes too late by that much.`,
      span,
      `Shorten the bar's last note by ${counted(pickup, bar.metre.unit)}.`,
    );
  });
};

/** Notes out of range: the first, and how many there are. Mutable: one a check. */
interface OutOfRange {
  count: number;
  first: { readonly pitch: Pitch; readonly key: string } | null;
}

const countIn = (found: OutOfRange, { bar, part, index }: PlacedBar, i: number, tone: number): void => {
  found.count += 1;
  const event = bar.events[i];
  const pitch = event?.kind === 'note' ? event.pitches[tone] : undefined;
  if (found.first !== null || pitch === undefined) return;
  const onset = asWholeNotes(sum(bar.events.slice(0, i).map((e) => e.length)));
  const at = { part, bar: index, onset };
  found.first = { pitch, key: addressKey(tone === 0 ? at : { ...at, tone }) };
};

/** Says once which notes lie below the fiddle and which above first position. */
export const checkRange = (score: Score, spans: ReadonlyMap<string, Span>, problems: Problems): void => {
  const low: OutOfRange = { count: 0, first: null };
  const high: OutOfRange = { count: 0, first: null };
  for (const placed of barsOf(score)) {
    placed.bar.events.forEach((event, i) => {
      if (event.kind === 'rest') return;
      event.pitches.forEach((pitch, tone) => {
        const midi = midiOf(pitch);
        if (midi < LOWEST_NOTE) countIn(low, placed, i, tone);
        else if (midi > HIGHEST_IN_FIRST_POSITION) countIn(high, placed, i, tone);
      });
    });
  }
  const report = (
    { count, first }: OutOfRange,
    code: 'below-the-fiddle' | 'above-first-position',
    where: string,
  ): void => {
    const span = first === null ? undefined : spans.get(first.key);
    if (first === null || span === undefined) return;
    const notes = count === 1 ? 'A note lies' : `${count} notes lie`;
    problems.add(code, `${notes} ${where} (here ${formatPitch(first.pitch)}).`, span);
  };
  report(low, 'below-the-fiddle', "below the fiddle's lowest string, G3");
  report(high, 'above-first-position', 'above first position, which ends at B5');
};

/** Says when repeats make the tune longer than can be played. */
export const checkPlayedLength = (score: Score, span: Span, problems: Problems): void => {
  const most = barsOf(score).length * (MOST_PASSES + 1) * Math.max(1, score.partOrder?.length ?? 1);
  if (most <= MOST_PLAYED_BARS) return;
  try {
    playedOrder(score);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const start = { start: span.start, end: span.start };
    problems.add('too-many-bars', `With its repeats the tune has more than ${MOST_PLAYED_BARS} bars.`, start);
  }
};
