import { asWholeNotes, rational } from '../core/index.ts';
import { isHarsh, notatedBeatOf, type Pitch } from '../music/index.ts';
import type { Score } from '../score/index.ts';
import type { Dissonance, Fit, UnlikeBar } from './fitTypes.ts';
import { fitWords } from './fitWords.ts';
import { gridsOf } from './grid.ts';
import { inTicks, type LineBar, lineOf } from './line.ts';

interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly pitch: Pitch;
  readonly midi: number;
}

/** What sounds in a bar, stretch by stretch. */
const stretchesIn = (bar: LineBar, scale: number): readonly Stretch[] => {
  const notes = bar.notes.map((n) => ({
    from: n.at * scale,
    to: n.until * scale,
    pitch: n.note.pitches[0],
    midi: n.midi,
  }));
  if (bar.carried === null) return notes;
  const { note, midi, until } = bar.carried;
  return [{ from: 0, to: until * scale, pitch: note.pitches[0], midi }, ...notes];
};

interface Tally {
  pulses: number;
  pulsesInUnison: number;
  time: number;
  unison: number;
}

interface BarView {
  readonly bar: LineBar;
  readonly offset: number;
  readonly ticks: number;
  readonly pulse: number;
  readonly rows: readonly (readonly Stretch[])[];
}

/** A whole tone: a larger distance is a leap. */
const STEP = 2;
const OCTAVE = 12;

/** Whether a note is left by a leap within its bar: the ear is not led on. */
const isLeftByLeap = (row: readonly Stretch[], at: number): boolean => {
  const [note, after] = [row[at], row[at + 1]];
  return note !== undefined && after !== undefined && Math.abs(after.midi - note.midi) > STEP;
};

const dissonancesIn = (view: BarView): readonly Dissonance[] => {
  const { bar, ticks, pulse, rows } = view;
  const beat = inTicks(notatedBeatOf(bar.bar.metre), ticks);
  const found: Dissonance[] = [];
  rows.forEach((striking, b) => {
    rows.forEach((holding, a) => {
      if (a === b) return;
      striking.forEach((struck, i) => {
        // What both strike at once is told once.
        const held = holding.find(
          (s) => (s.from < struck.from || (s.from === struck.from && a < b)) && s.to > struck.from,
        );
        if (held === undefined || !isHarsh(held.pitch, struck.pitch)) return;
        const length = Math.min(held.to, struck.to) - struck.from;
        const at = view.offset + struck.from;
        const exposed = length >= pulse || isLeftByLeap(striking, i);
        const strength = at % pulse === 0 ? 'clash' : exposed ? 'exposed' : 'passing';
        found.push({
          part: bar.part,
          bar: bar.index,
          number: bar.bar.number,
          onset: asWholeNotes(rational(struck.from, ticks)),
          length: asWholeNotes(rational(length, ticks)),
          beat: 1 + at / beat,
          held: held.pitch,
          struck: struck.pitch,
          versions: [a, b],
          strength,
        });
      });
    });
  });
  return found;
};

/** Whether all versions sound one note, octaves apart or not; null where one of them is silent. */
const unisonAt = (rows: readonly (readonly Stretch[])[], at: number): boolean | null => {
  let first: number | null = null;
  let together = true;
  for (const row of rows) {
    const sounding = row.find((s) => s.from <= at && s.to > at);
    if (sounding === undefined) return null;
    first ??= sounding.midi;
    if (Math.abs(sounding.midi - first) % OCTAVE !== 0) together = false;
  }
  return together;
};

const tallyBar = (view: BarView, tally: Tally): void => {
  const { rows, pulse, offset } = view;
  const edges = [...new Set(rows.flatMap((row) => row.flatMap((s) => [s.from, s.to])))].sort((a, b) => a - b);
  edges.slice(0, -1).forEach((from, i) => {
    const together = unisonAt(rows, from);
    if (together === null) return;
    const length = (edges[i + 1] ?? from) - from;
    tally.time += length;
    if (together) tally.unison += length;
  });
  const end = edges.at(-1) ?? 0;
  for (let at = (pulse - (offset % pulse)) % pulse; at < end; at += pulse) {
    const together = unisonAt(rows, at);
    if (together === null) continue;
    tally.pulses += 1;
    if (together) tally.pulsesInUnison += 1;
  }
};

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/**
 * Do these versions of one tune go together, and where should one listen?
 *
 * Bars are compared as written, one beside the other; grace notes and tones beside the melody don't count.
 * @param first - a version
 * @param second - another one of the same tune
 * @param more - any others
 */
export const fitOf = (first: Score, second: Score, ...more: readonly Score[]): Fit => {
  const scores = [first, second, ...more];
  const lines = scores.map(lineOf);
  const ticks = lines.reduce((a, line) => (a / gcd(a, line.ticks)) * line.ticks, 1);
  const gridFor = gridsOf(second, ticks, 'byBooks');
  const tally: Tally = { pulses: 0, pulsesInUnison: 0, time: 0, unison: 0 };
  const dissonances: Dissonance[] = [];
  const unlikeBars: UnlikeBar[] = [];
  const longest = Math.max(...lines.map((line) => line.bars.length));
  for (let i = 0; i < longest; i += 1) {
    const bars = lines.map((line) => line.bars[i]);
    const some = bars.find((b) => b !== undefined);
    if (some === undefined) continue;
    const lengths = bars.map((b, v) =>
      b === undefined ? -1 : (b.length * ticks) / (lines[v]?.ticks ?? ticks),
    );
    if (bars.includes(undefined) || lengths.some((length) => length !== lengths[0])) {
      unlikeBars.push({ part: some.part, bar: some.index, number: some.bar.number });
      continue;
    }
    const scaleOf = (v: number): number => ticks / (lines[v]?.ticks ?? ticks);
    const rows = bars.map((b, v) => (b === undefined ? [] : stretchesIn(b, scaleOf(v))));
    const view: BarView = {
      bar: some,
      offset: some.offset * scaleOf(0),
      ticks,
      pulse: gridFor(some).pulse,
      rows,
    };
    dissonances.push(...dissonancesIn(view));
    tallyBar(view, tally);
  }
  const fits = unlikeBars.length === 0 && !dissonances.some((d) => d.strength === 'clash');
  const share = (part: number, all: number): number => (all === 0 ? 1 : part / all);
  return {
    fits,
    words: fitWords(dissonances, unlikeBars),
    pulsesInUnison: share(tally.pulsesInUnison, tally.pulses),
    timeInUnison: share(tally.unison, tally.time),
    dissonances,
    unlikeBars,
  };
};
