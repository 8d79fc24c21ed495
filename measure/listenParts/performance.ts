import { seconds } from '../../src/core/index.ts';
import { DANCES } from '../../src/music/index.ts';
import { type TimedNote, type Timeline, timelineOf } from '../../src/perform/index.ts';
import type { TakenTune } from './material.ts';

/** What really happens in a generated recording. */
export interface Truth {
  /** Melody notes: a flick and the note that it begins are one note. */
  readonly notes: readonly { readonly start: number; readonly end: number; readonly midi: number }[];
  readonly flicks: readonly { readonly start: number; readonly midi: number }[];
  readonly beats: readonly number[];
  /** Starts of the bars that have a number. `afterStop`: the first after a stop. */
  readonly bars: readonly { readonly start: number; readonly key: string; readonly afterStop: boolean }[];
  readonly swing: number | null;
  readonly cents: number;
  readonly beatsPerMinute: number;
}

/** How a tune is played in a recording. */
export interface Playing {
  readonly times?: number;
  /** Share of the dance's own tempo at which it is played; 1 where it is left out. */
  readonly speed?: number;
  /** Long : short; default the dance's own. */
  readonly swing?: number;
  /** Cents off A = 440 Hz. */
  readonly cents?: number;
  /** Share by which the tempo sways and rises over the take. */
  readonly drift?: number;
  /** A stop of so many seconds after half of the bars. */
  readonly stop?: number;
  /** Seconds before the first note. */
  readonly lead?: number;
}

const isFlick = (note: TimedNote): boolean => note.attack === 'cut' || note.attack === 'strike';

/** Moves every moment of a timeline. */
const warped = (timeline: Timeline, to: (time: number) => number): Timeline => ({
  ...timeline,
  notes: timeline.notes.map((n) => ({
    ...n,
    start: seconds(to(n.start)),
    length: seconds(to(n.start + n.length - 1e-6) - to(n.start)),
  })),
  bars: timeline.bars.map((b) => ({ ...b, start: seconds(to(b.start)), end: seconds(to(b.end)) })),
  beats: timeline.beats.map((b) => ({ ...b, start: seconds(to(b.start)) })),
  length: seconds(to(timeline.length)),
});

const swayOf = (drift: number, length: number): ((time: number) => number) => {
  const turn = (2 * Math.PI) / 17;
  return (t) => t + (drift / turn) * (1 - Math.cos(turn * t)) - (drift * t * t) / (2 * length);
};

/** Melody notes of a timeline, each beginning with its flick where it has one. */
const notesIn = (timeline: Timeline): Truth['notes'] => {
  const own = timeline.notes.filter((n) => n.voice === 'fiddle' && n.beside !== true);
  const found: { start: number; end: number; midi: number }[] = [];
  let from: number | null = null;
  for (const note of own) {
    if (isFlick(note)) from ??= note.start;
    else {
      found.push({ start: from ?? note.start, end: note.start + note.length, midi: note.midi });
      from = null;
    }
  }
  return found;
};

/** The tune played, and the truth about it. */
export const performed = (
  tune: TakenTune,
  playing: Playing = {},
): { readonly timeline: Timeline; readonly truth: Truth } => {
  const dance = DANCES[tune.dance];
  const beatsPerMinute = dance.tempo.upToSpeed * (playing.speed ?? 1);
  const plain = timelineOf(tune.score, {
    dance,
    beatsPerMinute,
    times: playing.times ?? tune.times,
    countIn: false,
    melody: true,
    backing: null,
    ...(playing.swing === undefined ? {} : { swing: playing.swing }),
  });
  const halfway = plain.bars[Math.floor(plain.bars.length / 2)]?.start ?? 0;
  const sway = swayOf(playing.drift ?? 0, plain.length);
  const [stop, lead] = [playing.stop ?? 0, playing.lead ?? 0.4];
  const timeline = warped(plain, (t) => lead + sway(t) + (t >= halfway - 1e-9 ? stop : 0));
  const offset = playing.cents ?? 0;
  const numbered = timeline.bars.filter((b) => b.number !== undefined);
  const isSimple = !['jig', 'slipJig', 'slide'].includes(tune.dance);
  return {
    timeline,
    truth: {
      notes: notesIn(timeline).map((n) => ({ ...n, midi: n.midi + offset / 100 })),
      flicks: timeline.notes.filter(isFlick).map((n) => ({ start: n.start, midi: n.midi })),
      beats: timeline.beats.map((b) => b.start),
      bars: numbered.map((b) => ({
        start: b.start,
        key: `${b.part}/${b.bar}`,
        afterStop: stop > 0 && b.start > lead + sway(halfway) && b.start < lead + sway(halfway) + stop + 0.1,
      })),
      swing: isSimple ? (playing.swing ?? null) : null,
      cents: offset,
      beatsPerMinute,
    },
  };
};
