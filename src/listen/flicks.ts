import { FRAME_RATE } from './data.ts';
import type { Stretch } from './noteTrack.ts';
import type { PitchLine } from './pitchLine.ts';

/** A note that a flick of a finger begins or parts. */
export interface Flicked extends Stretch {
  /** What begins it. */
  readonly flick?: 'cut' | 'strike';
}

/** Seconds that a flick is heard at least and at most. Ours: a flick of 40 ms is blurred by a window of 20. */
const SHORTEST = 0.013;
const LONGEST = 0.078;
/** Semitones that it lies above (a cut) or below (a strike) its note. */
const NEAREST = 0.7;
const HIGHEST_CUT = 7.5;
const LOWEST_STRIKE = 3.5;
/** From its note's beginning a flick starts so early or late at most, seconds. */
const AT_START = 0.03;
/** Before its note's beginning, which may have been heard only when the flick was over: seconds. */
const EARLY = 0.01;
const EARLY_IN_SAME_PITCH = 0.06;
/** What a flick parts must last so long on each side, seconds. */
const SHORTEST_SIDE = 0.05;

interface Run {
  readonly start: number;
  readonly end: number;
  readonly kind: 'cut' | 'strike';
  readonly midi: number;
}

/** Stretches of the line off the note's pitch, in seconds. */
const runsIn = (
  line: PitchLine,
  note: Stretch,
  { cents, early }: { cents: number; early: number },
): readonly Run[] => {
  const main = note.semitone + cents / 100;
  const from = Math.max(0, Math.round((note.start / FRAME_RATE - early) * line.rate));
  const to = Math.min(line.midi.length, Math.round((note.end / FRAME_RATE) * line.rate));
  const kindAt = (t: number): Run['kind'] | null => {
    const pitch = line.midi[t] as number;
    if (pitch === 0) return null;
    const off = pitch - main;
    if (off > NEAREST && off < HIGHEST_CUT) return 'cut';
    return off < -NEAREST && off > -LOWEST_STRIKE ? 'strike' : null;
  };
  const runs: Run[] = [];
  for (let t = from; t < to; ) {
    const kind = kindAt(t);
    let end = t + 1;
    if (kind !== null) {
      let sum = line.midi[t] as number;
      for (; end < to && kindAt(end) === kind; end += 1) sum += line.midi[end] as number;
      runs.push({ start: t / line.rate, end: end / line.rate, kind, midi: sum / (end - t) });
    }
    t = end;
  }
  return runs.filter((r) => r.end - r.start >= SHORTEST && r.end - r.start <= LONGEST);
};

/** Whether the run is only the note before, going on, or the note after, begun. */
const belongsTo = (run: Run, other: Stretch | undefined, cents: number): boolean =>
  other !== undefined && Math.abs(run.midi - other.semitone - cents / 100) < 0.6;

/** What lies between two notes is the way from one to the other unless it stands so long, seconds. Ours. */
const LONGEST_WAY = 0.05;

/** Whether the run is only the way from the note before: the finger's, or that of a window that hears both. */
const isOnTheWay = (run: Run, before: Stretch | undefined, note: Stretch, cents: number): boolean => {
  if (before === undefined || before.end !== note.start || run.end - run.start > LONGEST_WAY) return false;
  const [low, high] = [before.semitone, note.semitone].sort((a, b) => a - b);
  const at = run.midi - cents / 100;
  return at > (low ?? 0) && at < (high ?? 0);
};

const partedAt = (
  note: Stretch,
  line: PitchLine,
  around: { before: Stretch | undefined; after: Stretch | undefined; cents: number },
): readonly Flicked[] => {
  const { before, after, cents } = around;
  const parts: { start: number; end: number; semitone: number; flick?: 'cut' | 'strike' }[] = [{ ...note }];
  const again = before !== undefined && before.end === note.start && before.semitone === note.semitone;
  const early = again ? EARLY_IN_SAME_PITCH : EARLY;
  for (const run of runsIn(line, note, { cents, early })) {
    const current = parts.at(-1);
    if (current === undefined) break;
    const since = run.start - note.start / FRAME_RATE;
    const left = note.end / FRAME_RATE - run.end;
    if (left < SHORTEST_SIDE && belongsTo(run, after, cents)) continue;
    if (since < AT_START) {
      if (belongsTo(run, before, cents) || isOnTheWay(run, before, note, cents)) continue;
      current.flick ??= run.kind;
      if (again) current.start = Math.min(current.start, Math.round(run.start * FRAME_RATE));
    } else if (run.start - current.start / FRAME_RATE >= SHORTEST_SIDE && left >= SHORTEST_SIDE / 2) {
      const at = Math.round(run.start * FRAME_RATE);
      current.end = at;
      parts.push({ start: at, end: note.end, semitone: note.semitone, flick: run.kind });
    }
  }
  return parts;
};

/** Notes with the flicks that begin them; a flick inside a note parts it in two (as in a roll). */
export const withFlicks = (notes: readonly Stretch[], line: PitchLine, cents: number): readonly Flicked[] =>
  notes
    .flatMap((note, i) => partedAt(note, line, { before: notes[i - 1], after: notes[i + 1], cents }))
    .map((note, i, all) => ({ ...note, end: Math.min(note.end, all[i + 1]?.start ?? note.end) }));
