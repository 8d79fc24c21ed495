import { BAR, DROP, HOOK_BARS } from './data.ts';
import type { Grid } from './grid.ts';
import type { Line, LineBar, LineNote } from './line.ts';

/** Which chromas (0 = C) are tones of the chord over a place of a bar; null where nothing is known. */
export type ChordTonesIn = (part: string, bar: number) => (tick: number) => readonly number[] | null;

/** A note of the plain version and what it is worth to the bones. */
export interface WeighedNote {
  readonly at: number;
  readonly until: number;
  readonly midi: number;
  /** Running-note place in the bar's metre. */
  readonly place: number;
  /** At the start of its place. */
  readonly onPlace: boolean;
  readonly onPulse: boolean;
  readonly onBeat: boolean;
  /** Must stay: the first of a bar or after a rest, tied over a bar line, in a tuplet that can't be thinned … */
  readonly forced: boolean;
  /** Cost of leaving it out, whatever is held instead. */
  readonly drop: number;
  /** Cost of leaving it out when another pitch sounds instead. */
  readonly dropChanged: number;
  readonly line: LineNote;
}

/** A bar of the plain version, weighed. */
export interface WeighedBar {
  readonly line: LineBar;
  readonly grid: Grid;
  /** Ticks in a whole note. */
  readonly ticks: number;
  readonly notes: readonly WeighedNote[];
  /** Running-note places in the bar, and how many are struck in the plain version. */
  readonly places: number;
  readonly struck: number;
  /** Whether some cell has a note at each of its places. */
  readonly runs: boolean;
  readonly hook: boolean;
  /** One of the last two bars of its part, or next to an ending. */
  readonly cadence: boolean;
}

const MARKS_THAT_STAY: ReadonlySet<string> = new Set([
  'fermata',
  'segno',
  'coda',
  'fine',
  'dacapo',
  'dalsegno',
]);

const isForced = (bar: LineBar, note: LineNote, before: LineNote | undefined): boolean =>
  (before === undefined && bar.carried === null) ||
  bar.rests.some((rest) => rest.until === note.at) ||
  note.tiedOut ||
  note.tuplet?.whole === true ||
  note.note.marks.some((mark) => MARKS_THAT_STAY.has(mark));

interface Neighbours {
  readonly before: LineNote | undefined;
  readonly after: LineNote | undefined;
}

const sharesPlace = (note: LineNote, before: LineNote | undefined, bar: LineBar, grid: Grid): boolean =>
  before !== undefined &&
  Math.floor((bar.offset + note.at) / grid.running) === Math.floor((bar.offset + before.at) / grid.running);

/** What the shape of the melody around a note adds to the cost of leaving it out. */
const shapeCost = (note: LineNote, { before, after }: Neighbours): number => {
  if (before === undefined || after === undefined) return 0;
  if (before.midi === note.midi) return DROP.repeated;
  const into = note.staffStep - before.staffStep;
  const out = after.staffStep - note.staffStep;
  if (into > 0 && out < 0) return DROP.peak + leapCost(into, out);
  if (into < 0 && out > 0) return DROP.trough + leapCost(into, out);
  return Math.abs(into) === 1 && Math.abs(out) === 1 ? DROP.passing : leapCost(into, out);
};

const leapCost = (into: number, out: number): number =>
  (Math.abs(into) > 1 ? DROP.leaping : 0) + (Math.abs(out) > 1 ? DROP.leaping : 0);

/** The bars of each part that end it: the last full one and the one before, and those before and in endings. */
const cadenceBars = (line: Line): ReadonlySet<LineBar> => {
  const result = new Set<LineBar>();
  line.bars.forEach((bar, i) => {
    const next = line.bars[i + 1];
    const closes = next === undefined || next.part !== bar.part || next.bar.ending !== null;
    if (!closes) return;
    result.add(bar);
    const before = line.bars[i - 1];
    if (before !== undefined && before.part === bar.part) result.add(before);
  });
  return result;
};

const hookBars = (line: Line): ReadonlySet<LineBar> => {
  const counts = new Map<string, number>();
  return new Set(
    line.bars.filter((bar) => {
      if (bar.bar.role === 'pickup') return false;
      const count = counts.get(bar.part) ?? 0;
      counts.set(bar.part, count + 1);
      return count < HOOK_BARS;
    }),
  );
};

const highestOf = (line: Line): ReadonlyMap<string, number> => {
  const highest = new Map<string, number>();
  for (const bar of line.bars)
    for (const note of bar.notes) highest.set(bar.part, Math.max(highest.get(bar.part) ?? 0, note.midi));
  return highest;
};

/** Whether a cell of the grid has all its places struck. */
const hasRun = (struck: ReadonlySet<number>, grid: Grid): boolean => {
  const width = grid.group / grid.running;
  return [...struck].some(
    (place) =>
      place % width === 0 && Array.from({ length: width }, (_, i) => place + i).every((p) => struck.has(p)),
  );
};

/**
 * What every note of the plain version is worth: metre, length, shape, chord, hook, cadence.
 * @param line - the plain version's melody
 * @param gridFor - the grid of a bar
 * @param given - chord tones over a place of a bar; whether snaps are the dance's character
 */
export const weigh = (
  line: Line,
  gridFor: (bar: LineBar) => Grid,
  given: { readonly tonesIn: ChordTonesIn; readonly snapped: boolean },
): readonly WeighedBar[] => {
  const { tonesIn, snapped } = given;
  const cadences = cadenceBars(line);
  const hooks = hookBars(line);
  const highest = highestOf(line);
  const lastOf = new Map<string, LineNote>();
  for (const bar of line.bars) for (const note of bar.notes) lastOf.set(bar.part, note);
  return line.bars.map((bar, i) => {
    const grid = gridFor(bar);
    const hook = hooks.has(bar);
    const tonesAt = tonesIn(bar.part, bar.index);
    const [final, top] = [lastOf.get(bar.part), highest.get(bar.part)];
    const notes = bar.notes.map((note, k): WeighedNote => {
      const before = bar.notes[k - 1] ?? line.bars[i - 1]?.notes.at(-1);
      const after = bar.notes[k + 1] ?? line.bars[i + 1]?.notes[0];
      const position = bar.offset + note.at;
      const onPulse = position % grid.pulse === 0;
      const onBeat = position % grid.beat === 0;
      let drop: number = DROP.any + shapeCost(note, { before, after });
      if (onBeat) drop += DROP.beat;
      else if (onPulse) drop += snapped ? DROP.snappedBeat : DROP.offBeatRepeated;
      if (note.sounding >= 2 * grid.running) drop += DROP.long;
      else if (note.sounding > grid.running) drop += DROP.dotted;
      else if (sharesPlace(note, bar.notes[k - 1], bar, grid)) drop += DROP.ornamental;
      if (final === note) drop += DROP.final;
      if (top === note.midi) drop += DROP.highest;
      if (tonesAt(note.at)?.includes(note.midi % 12) === true) drop += DROP.chordTone;
      drop = Math.max(DROP.least, drop);
      const changed = onPulse ? (hook ? DROP.code : DROP.offBeat - DROP.offBeatRepeated) : 0;
      const forced = isForced(bar, note, bar.notes[k - 1]);
      const place = Math.floor(position / grid.running);
      const onPlace = position % grid.running === 0;
      const { at, until, midi } = note;
      return {
        at,
        until,
        midi,
        place,
        onPlace,
        onPulse,
        onBeat,
        line: note,
        forced,
        drop,
        dropChanged: changed,
      };
    });
    const places = Math.max(1, Math.round(bar.length / grid.running));
    const struck = new Set(notes.map((n) => n.place));
    const own = { line: bar, grid, ticks: line.ticks, notes, places, struck: struck.size };
    return { ...own, runs: hasRun(struck, grid), hook, cadence: cadences.has(bar) };
  });
};

/** Two pitches that grate together, as the fit is judged: minor second, major seventh, tritone, octaves apart or not. */
const grates = (a: number, b: number): boolean => {
  const distance = Math.abs(a - b) % 12;
  return distance === 1 || distance === 11 || distance === 6;
};

/** What holding one pitch while the plain version strikes another costs. */
export const heldAgainst = (held: number, struck: WeighedNote): number =>
  held !== struck.midi && grates(held, struck.midi) ? (struck.onPulse ? BAR.clash : BAR.harsh) : 0;
