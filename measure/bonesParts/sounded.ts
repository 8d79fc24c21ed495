import { danceOfScore, runningUnitOf } from '../../src/fiddle/index.ts';
import { isCompound, midiOf } from '../../src/music/index.ts';
import { type Bar, barsOf, metricalOffsetOf, type Score } from '../../src/score/index.ts';

// How the measuring reads a score: on its own, not with the code that it measures.

/** Ticks in a whole note: whole numbers for 64ths, triplets, quintuplets and septuplets. */
export const TICKS = 20_160;

/** A struck note, ties joined; times from the start of its bar. */
export interface Struck {
  readonly at: number;
  until: number;
  /** With what it rings over bar lines. */
  sounding: number;
  readonly midi: number;
}

/** A bar as it sounds. */
export interface SoundedBar {
  readonly part: string;
  readonly role: Bar['role'];
  readonly length: number;
  readonly offset: number;
  /** Ticks of a running-note place, a pulse, a beat, a cell. */
  readonly running: number;
  readonly pulse: number;
  readonly beat: number;
  readonly cell: number;
  readonly metre: string;
  readonly compound: boolean;
  readonly notes: readonly Struck[];
  /** What rings in from the bar before. */
  readonly carried: { readonly midi: number; until: number } | null;
  readonly rests: readonly number[];
}

const ticks = (length: { readonly num: number; readonly den: number }): number =>
  Math.round((length.num * TICKS) / length.den);

const gridOfBar = (bar: Bar, unit: number): Pick<SoundedBar, 'running' | 'pulse' | 'beat' | 'cell'> => {
  const { metre } = bar;
  const measured = metre.kind === 'measured';
  if (measured && (isCompound(metre) || (metre.count === 3 && metre.unit === 8))) {
    const running = TICKS / metre.unit;
    return { running, pulse: 3 * running, beat: 3 * running, cell: 3 * running };
  }
  const twoFour = measured && metre.count === 2 && metre.unit === 4;
  const running = twoFour ? TICKS / 16 : unit;
  const fours = measured && ((metre.count * TICKS) / metre.unit) % (4 * running) === 0;
  return { running, pulse: 2 * running, beat: (fours ? 4 : 2) * running, cell: (fours ? 4 : 2) * running };
};

/** The score as struck notes, bar by bar. */
export const sounded = (score: Score): readonly SoundedBar[] => {
  const unit = ticks(runningUnitOf(danceOfScore(score), score.metre));
  let open: { note: Struck; piece: { until: number }; bar: number } | null = null;
  return barsOf(score).map(({ bar, part }, number) => {
    const notes: Struck[] = [];
    const rests: number[] = [];
    let carried: { midi: number; until: number } | null = null;
    let at = 0;
    for (const event of bar.events) {
      const until = at + ticks(event.length);
      if (event.kind === 'rest') {
        rests.push(at);
        open = null;
      } else {
        const midi = midiOf(event.pitches[0]);
        if (open !== null && open.note.midi === midi) {
          open.note.sounding += until - at;
          if (open.bar === number) open.piece.until = until;
          else {
            carried = { midi, until };
            open = { note: open.note, piece: carried, bar: number };
          }
          if (!event.tiedToNext) open = null;
        } else {
          const note = { at, until, sounding: until - at, midi };
          notes.push(note);
          open = event.tiedToNext ? { note, piece: note, bar: number } : null;
        }
      }
      at = until;
    }
    const metre = bar.metre.kind === 'free' ? 'free' : `${bar.metre.count}/${bar.metre.unit}`;
    const compound = bar.metre.kind === 'measured' && isCompound(bar.metre);
    const offset = ticks(metricalOffsetOf(bar));
    const own = { part, role: bar.role, length: at, offset, metre, compound, notes, carried, rests };
    return { ...own, ...gridOfBar(bar, unit) };
  });
};

/**
 * Mechanical thinning: every second running note goes; of three in a beat the middle one. What is longer stays.
 *
 * The yardstick of every row: it is what a program does that knows nothing of music.
 */
export const mechanicallyThinned = (plain: readonly SoundedBar[]): readonly SoundedBar[] =>
  plain.map((bar) => {
    const three = bar.cell === 3 * bar.running;
    const width = (three ? 3 : 2) * bar.running;
    const gone = (note: Struck): boolean => {
      if (note.until - note.at > bar.running) return false;
      const position = bar.offset + note.at;
      const inside = position % width;
      if (inside === 0 || (three && inside >= 2 * bar.running)) return false;
      const start = note.at - inside;
      const before = bar.notes.filter((n) => n.at >= start && n.at < note.at);
      const after = bar.notes.filter((n) => n.at > note.at && n.at < start + width);
      const alone = before.length === 0 || (three && after.length === 0);
      const afterRest = bar.rests.some((rest) => rest >= start && rest < note.at);
      return !alone && !afterRest && note.sounding === note.until - note.at;
    };
    const kept = bar.notes.filter((note) => !gone(note));
    const notes = kept.map((note, i): Struck => {
      const rest = bar.rests.find((r) => r >= note.at);
      const until = Math.min(kept[i + 1]?.at ?? bar.length, rest ?? bar.length);
      return { ...note, until, sounding: until - note.at + (note.sounding - (note.until - note.at)) };
    });
    return { ...bar, notes };
  });

/** The pitch that sounds at a moment of a bar; null in a rest. */
export const soundingAt = (bar: SoundedBar, at: number): number | null => {
  for (const note of bar.notes) if (note.at <= at && note.until > at) return note.midi;
  return bar.carried !== null && bar.carried.until > at ? bar.carried.midi : null;
};

/** Whether two pitches grate: minor second, major seventh, tritone, octaves apart or not. */
export const grate = (a: number, b: number): boolean => [1, 6, 11].includes(Math.abs(a - b) % 12);

/** Which running-note places of a stretch are struck, as "1011". */
export const figure = (bar: SoundedBar, from: number, to: number): string => {
  const places = Math.max(1, Math.round((to - from) / bar.running));
  const struck = Array.from({ length: places }, () => '0');
  for (const note of bar.notes)
    if (note.at >= from && note.at < to) struck[Math.floor((note.at - from) / bar.running)] = '1';
  return struck.join('');
};

/** The cells of a bar: half bars, beats of three, crotchets. */
export const cellsOf = (bar: SoundedBar): readonly { readonly from: number; readonly to: number }[] => {
  const cells: { from: number; to: number }[] = [];
  for (let from = 0; from < bar.length; ) {
    const to = Math.min(bar.length, from + bar.cell - ((bar.offset + from) % bar.cell));
    cells.push({ from, to });
    from = to;
  }
  return cells;
};

/** Running-note places of a bar and how many are struck. */
export const fillOf = (bar: SoundedBar): { readonly places: number; readonly struck: number } => ({
  places: Math.max(1, Math.round(bar.length / bar.running)),
  struck: new Set(bar.notes.map((n) => Math.floor((bar.offset + n.at) / bar.running))).size,
});
