import { type Hertz, type Seconds, seconds, toNumber, type WholeNotes, wholeNotes } from '../core/index.ts';
import { DANCES, type Dance, danceOf } from '../music/index.ts';
import { fieldsOf, runningNoteOf, type Score, titleOf } from '../score/index.ts';
import { type Alignment, align } from './align.ts';
import { type BarPlan, barPlans } from './barFinder.ts';
import { type Difference, differencesOf } from './differences.ts';
import { type Draft, draftOf } from './draft.ts';
import { followedBars, playedForm } from './followed.ts';
import { type Grid, gridOf } from './grid.ts';
import { type Heard, type HeardNote, hear, type Told } from './hear.ts';
import { isMusic, musicOf } from './music.ts';
import { paceOf } from './pace.ts';
import { barsOfPlan, formOf, type PlayedBar, quaversOf } from './playedBars.ts';
import { type Placed, type Swing, swingOf } from './swing.ts';
import type { Tuning } from './tuning.ts';
import { type WrittenTune, writtenTuneOf } from './written.ts';

/** How fast a recording is. */
export interface PlayedTempo {
  readonly beatsPerMinute: number;
  readonly beat: WholeNotes;
  /** Slowest and fastest bar, in the same beats a minute; one in twenty on each side left out. */
  readonly slowest: number;
  readonly fastest: number;
}

/** What a recording says. */
export interface Listening {
  readonly seconds: Seconds;
  readonly rate: Hertz;
  /** False where nothing like a tune is heard. */
  readonly music: boolean;
  readonly tuning: Tuning | null;
  readonly tempo: PlayedTempo | null;
  readonly swing: Swing | null;
  readonly notes: readonly HeardNote[];
  readonly beats: readonly Seconds[];
  readonly bars: readonly PlayedBar[];
  readonly form: string | null;
  /** Semitones that it lies above the tune as written; 0 without a tune. */
  readonly transposition: number;
  /** How the bars were found. */
  readonly found: Found;
}

/** How the bars were found: by the known tune, by repeats and metre, or not at all. */
export type Found =
  | {
      readonly kind: 'tune';
      readonly likeness: number;
      readonly dance: Dance;
      readonly differences: readonly Difference[];
      /** Indices of the heard notes that play a written one. */
      readonly matched: readonly number[];
    }
  | { readonly kind: 'heard'; readonly plan: BarPlan; readonly others: readonly BarPlan[] }
  | { readonly kind: 'none' };

/** What is known before listening. */
export interface ListenOptions {
  /** The tune that is played. */
  readonly score?: Score;
  /** Its bar and beat in quavers, where the tune is not known but its metre is. */
  readonly metre?: { readonly quavers: number; readonly beat: number };
  readonly told?: Told;
}

/** A recording is the tune when a heard note is worth this much. Ours: other tunes of the dance reach 0.3. */
const LEAST_LIKENESS = 0.42;
/** One that it follows nearly all the while need be worth less a note. Ours: other tunes that last so long reach 0.03. */
const LEAST_LIKENESS_LONG = 0.25;
const LONG_SHARE = 0.5;

/** Whether a recording is the tune that it was aligned with. */
const isTune = ({ matches, likeness }: Alignment, heard: readonly HeardNote[]): boolean => {
  const followed = (matches.at(-1)?.heard ?? 0) - (matches[0]?.heard ?? 0) + 1;
  const least = followed > LONG_SHARE * heard.length ? LEAST_LIKENESS_LONG : LEAST_LIKENESS;
  return likeness >= least && matches.length >= 8;
};

const quaversIn = (length: WholeNotes): number => toNumber(length) * 8;

/** Beats of bars: each bar's own, evenly laid. */
const beatsOf = (bars: readonly PlayedBar[], beat: number): readonly Seconds[] =>
  bars.flatMap((bar) => {
    const pace = (bar.end - bar.start) / bar.quavers;
    // A pick-up is counted from its end: beats stand where the next bar's count leads back to.
    const lead = bar.number === null ? bar.quavers % beat : 0;
    return Array.from({ length: Math.ceil((bar.quavers - lead) / beat) }, (_, k) =>
      seconds(bar.start + (lead + k * beat) * pace),
    );
  });

/**
 * Bars within this share of the middle one make the tempo, by their mean: where one bar line is heard late the bar before
 * is as much too long as the bar behind is too short. Ours.
 */
const USUAL = 0.15;

const tempoOf = (
  bars: readonly PlayedBar[],
  beat: WholeNotes,
  stops: ReadonlySet<PlayedBar>,
): PlayedTempo | null => {
  const quavers = quaversIn(beat);
  // A bar that is not whole may end with a pick-up that is counted with the next part.
  const lengths = bars.map((b) => b.quavers).sort((a, b) => a - b);
  const whole = lengths[lengths.length >> 1];
  const paces = bars
    .filter((b) => b.number !== null && b.quavers === whole && !stops.has(b))
    .map((b) => 60 / ((quavers * (b.end - b.start)) / (b.counted ?? b.quavers)))
    .sort((a, b) => a - b);
  if (paces.length === 0) return null;
  const at = (share: number): number => paces[Math.floor(share * (paces.length - 1))] as number;
  const usual = paces.filter((pace) => Math.abs(pace / at(0.5) - 1) <= USUAL);
  const beatLength = usual.reduce((sum, pace) => sum + 60 / pace, 0) / usual.length;
  return { beatsPerMinute: 60 / beatLength, beat, slowest: at(0.05), fastest: at(0.95) };
};

const danceOfTune = (score: Score): Dance =>
  danceOf(fieldsOf(score, 'R')[0], score.metre, runningNoteOf(score)).dance;

/** What is told of the bars. */
interface Bars {
  readonly tempo: PlayedTempo | null;
  readonly swing: Swing | null;
  readonly beats: readonly Seconds[];
  readonly bars: readonly PlayedBar[];
  readonly form: string | null;
  readonly transposition: number;
  readonly found: Found;
}

const NOTHING: Bars = {
  tempo: null,
  swing: null,
  beats: [],
  bars: [],
  form: null,
  transposition: 0,
  found: { kind: 'none' },
};

/** Pairs of running notes as aligned, for swing. */
const placedOf = (
  alignment: Alignment,
  tune: WrittenTune,
  notes: readonly HeardNote[],
  running: number,
): readonly Placed[] => {
  let round = 0;
  return alignment.matches.flatMap((m) => {
    const section = tune.sections[m.section];
    const note = section?.notes[m.note];
    if (m.entered) round += 1;
    if (section === undefined || note === undefined) return [];
    const origin = section.bars.find((b) => b.number !== null)?.at ?? 0;
    const at = (note.at - origin) / running;
    if (Math.abs(at - Math.round(at)) > 0.01 || at < 0) return [];
    return [{ at: Math.round(at) + 10_000 * round, time: notes[m.heard]?.start ?? 0 }];
  });
};

/** A bar that is this much longer than written holds a stop. */
const STOP = 1.5;

const stopsIn = (bars: readonly PlayedBar[]): ReadonlySet<PlayedBar> => {
  const paces = bars.map((b) => (b.end - b.start) / b.quavers).sort((a, b) => a - b);
  const usual = paces[paces.length >> 1] ?? 0;
  return new Set(bars.filter((b) => (b.end - b.start) / b.quavers > STOP * usual));
};

/** What follows from a known tune; null where the recording is another. */
const byTune = (heard: Heard, pace: number, score: Score): Bars | null => {
  const tune = writtenTuneOf(score);
  const alignment = align(heard.notes, tune, pace);
  if (!isTune(alignment, heard.notes)) return null;
  const dance = danceOfTune(score);
  const followed = followedBars(alignment, tune, heard.notes, pace);
  const bars = followed.map((bar, i): PlayedBar => {
    const next = followed[i + 1]?.start ?? Infinity;
    const own = bar.start + bar.quavers * bar.pace;
    return {
      number: bar.number,
      part: bar.part,
      pass: bar.pass,
      start: bar.start,
      end: Math.min(next, own + 0.5 * bar.pace),
      quavers: bar.quavers,
    };
  });
  const simple = score.metre.kind === 'measured' && score.metre.count % 3 !== 0;
  const running = quaversIn(dance.runningNote);
  return {
    tempo: tempoOf(bars, dance.beat, stopsIn(bars)),
    swing: simple ? swingOf(placedOf(alignment, tune, heard.notes, running)) : null,
    beats: beatsOf(bars, quaversIn(dance.beat)),
    bars,
    form: formOf(playedForm(alignment, tune)),
    transposition: alignment.transposition,
    found: {
      kind: 'tune',
      likeness: alignment.likeness,
      dance,
      differences: differencesOf(alignment, tune, heard.notes),
      matched: alignment.matches.map((m) => m.heard),
    },
  };
};

/** A grid costlier than this a note keeps no time: free playing, or no tune. Ours. */
const WORST_GRID = 0.75;

const swingOnGrid = (grid: Grid, notes: readonly HeardNote[]): Swing | null =>
  swingOf(grid.notes.map((n) => ({ at: n.at, time: notes[n.heard]?.start ?? 0 })));

/**
 * The usual length of notes as quavers: as it is; as crotchet and quaver in turn, which is a jig's; as semiquavers.
 */
const LEVELS = [
  { pace: 1, compound: null },
  { pace: 2 / 3, compound: true },
  { pace: 2, compound: null },
] as const;
/**
 * What the price of the grid weighs against the likelihood of the bars. Ours: so that a note that is passed over counts as
 * one in twenty does, the profile's weight included.
 */
const GRID_WEIGHT = 7;

/**
 * A grid on which fewer of the notes stand counts something else: crotchets, with every other quaver passed over. Notes too
 * short for a quaver need stand on none, seconds. Ours: of the tuning half's grids the right ones hold 0.78 and more, those
 * of half the pace 0.61 and less.
 */
const ON_GRID = { least: 0.68, shortest: 0.085 } as const;

/** A grid that drifted so far from the length that it was asked for, as a logarithm, counts something else. Ours. */
const SAME_LEVEL = 0.1;

/** Quavers, and the bars that lie over them. */
interface Counted {
  readonly grid: Grid;
  readonly swing: Swing | null;
  readonly plans: readonly [BarPlan, ...BarPlan[]];
}

const countedAt = (
  notes: readonly HeardNote[],
  { pace, compound }: { readonly pace: number; readonly compound: true | null },
  metre: ListenOptions['metre'],
): Counted | null => {
  const grid = gridOf(notes, pace);
  if (grid.price > WORST_GRID || grid.notes.length < 16) return null;
  if (Math.abs(Math.log(grid.pace / pace)) > SAME_LEVEL) return null;
  const long = notes.filter((n) => n.end - n.start > ON_GRID.shortest).length;
  if (grid.notes.length < ON_GRID.least * long) return null;
  const swing = swingOnGrid(grid, notes);
  const feel = { pace: grid.pace, swing: swing?.ratio ?? null };
  const [plan, ...others] = barPlans(quaversOf(grid, notes), feel, metre).filter(
    ({ kind }) => compound === null || kind.unit === 8,
  );
  return plan === undefined ? null : { grid, swing, plans: [plan, ...others] };
};

const worth = ({ grid, plans: [plan] }: Counted): number => plan.score - GRID_WEIGHT * grid.price;

/** What can be heard without the tune. */
const byEar = (notes: readonly HeardNote[], pace: number, metre: ListenOptions['metre']): Bars => {
  const counted = LEVELS.flatMap(
    (level) => countedAt(notes, { ...level, pace: pace * level.pace }, metre) ?? [],
  );
  const [best] = counted.toSorted((a, b) => worth(b) - worth(a));
  if (best === undefined) return NOTHING;
  const { grid, swing, plans } = best;
  const [plan, ...others] = plans;
  const bars = barsOfPlan(plan, grid, notes);
  const { kind } = plan;
  const parts = bars.filter(
    (b, i) => i === 0 || bars[i - 1]?.part !== b.part || bars[i - 1]?.pass !== b.pass,
  );
  return {
    tempo: tempoOf(bars, wholeNotes(kind.beat, 8), stopsIn(bars)),
    swing: kind.unit === 8 ? null : swing,
    beats: beatsOf(bars, kind.beat),
    bars,
    form: formOf(parts.map((b) => b.part).join('')) || null,
    transposition: 0,
    found: { kind: 'heard', plan, others },
  };
};

/**
 * What follows from the notes that were heard: tempo, swing and bars; with the tune given, where each bar lies and what
 * was played differently.
 * @param rate - of the recording, to be told again
 */
export const understood = (heard: Heard, rate: Hertz, options: ListenOptions = {}): Listening => {
  const common = { seconds: heard.seconds, rate, tuning: heard.tuning };
  const music = musicOf(heard);
  const pace = paceOf(music);
  if (!isMusic(heard, music)) return { ...common, ...NOTHING, tuning: null, music: false, notes: [] };
  if (pace === null) return { ...common, ...NOTHING, music: true, notes: music };
  const followed = options.score === undefined ? null : byTune(heard, pace, options.score);
  const rest = followed ?? byEar(music, pace, options.metre);
  return { ...common, ...rest, music: true, notes: followed === null ? music : heard.notes };
};

/**
 * What does a recording say?
 * @param samples - mono, nominally −1…1
 */
export const listenTo = (samples: Float32Array, rate: Hertz, options: ListenOptions = {}): Listening =>
  understood(hear(samples, rate, options.told), rate, options);

/** A draft of the notes of what was heard; null where no bars were found. @param score - the tune, where it is known */
export const draftFrom = (listening: Listening, score?: Score): Draft | null => {
  const { found, form } = listening;
  if (form === null || listening.bars.length === 0 || found.kind === 'none') return null;
  const swing = listening.swing?.ratio ?? 1;
  const common = { bars: listening.bars, heard: listening.notes, swing, form };
  if (found.kind === 'heard') {
    const { dance, count, unit } = found.plan.kind;
    return draftOf({ ...common, dance, count, unit, title: `Draft of a ${DANCES[dance].name}` });
  }
  if (score?.metre.kind !== 'measured') return null;
  const { count, unit } = score.metre;
  return draftOf({
    ...common,
    dance: found.dance.id,
    count,
    unit,
    title: `${titleOf(score)} (draft, as played)`,
  });
};
