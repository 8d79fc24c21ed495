import { type Seconds, seconds } from '../core/index.ts';
import type { DanceId } from '../music/index.ts';

/** A cut or strike. From memory: 30–50 ms, no published figure was readable. */
export const FLICK: Seconds = seconds(0.04);
/** Each of three or more grace notes: their pitch is meant to be heard. From memory. */
export const GRACE_RUN_NOTE: Seconds = seconds(0.05);
/** A note keeps at least this share of its time, however many ornaments stand on it. Ours. */
export const MAIN_NOTE_SHARE = 0.5;

/**
 * A treble: two strokes of one share each and one of three, in 0.32 s at most; what is left of its time goes to the last.
 * @see Source: S. Eydmann, "Unravelling the birl", in Play It Like It Is, 2006 (one player's lengths, informal)
 */
export const TREBLE = { short: 1, long: 3, longest: seconds(0.32) } as const;

/** A treble in its slow form, for learning it: two short strokes and a long one that fill the crotchet. Common practice. */
export const SLOW_TREBLE = { short: 1, long: 2, longest: seconds(Number.MAX_VALUE) } as const;

/** A slide: semitones from below, and how long it takes. The semitone is common practice, the time from memory. */
export const SLIDE = { from: -1, time: seconds(0.07) } as const;
/** Each note of a trill. From memory. */
export const TRILL_NOTE: Seconds = seconds(0.07);
/** The first notes of a turn or mordent, each. From memory. */
export const TURN_NOTE: Seconds = seconds(0.06);
/** Share of its time that a staccato note sounds. Common practice: half. */
export const STACCATO_SHARE = 0.5;

/**
 * The three running notes of a jig's beat, as shares of the beat.
 * @see Source: counted from the manual note annotations of Beauguitte, Duggan, Kelleher (ISMIR 2016), six jigs
 */
export const JIG_SHARES: readonly [number, number, number] = [0.34, 0.31, 0.35];
/** Dances that are played with the jig's shares. Six jigs were counted; slip jigs and slides are taken along: ours. */
export const JIG_DANCES: readonly DanceId[] = ['jig', 'slipJig', 'slide'];

/** At its most a slow tempo makes a pair's swing this much stronger than at the steady tempo. Ours. */
export const STRONGEST_SWING = 1.3;
/**
 * The short note of a swung pair does not get shorter than this where an even one would not.
 * @see Source: Friberg and Sundström, Music Perception 19(3), 2002: about 100 ms from medium tempo up
 */
export const SHORTEST_SWUNG: Seconds = seconds(0.1);

/** A note under a fermata lasts so many times its length, and everybody waits. Common practice: about double. */
export const FERMATA = 2;
/** A tempo marked inside a tune is believed within these factors of its beginning. Ours: beyond, it is a slip. */
export const PACE_RANGE = { least: 0.25, most: 4 } as const;

/** The last note and the closing chord last at least this long. Ours: long enough to be heard as an end. */
export const CLOSING_HOLD: Seconds = seconds(1.2);

/** How loud the fiddle plays, 0…1. Ours: beats lead, as the dance is stepped. */
export const LEVELS = {
  firstBeat: 0.8,
  beat: 0.74,
  /** The start of a running pair, or the third note of a jig's beat. */
  offBeat: 0.68,
  between: 0.62,
  accent: 0.06,
  /** Taken off a note that is not begun by the bow. */
  slurred: 0.02,
  /** Taken off a tone beside the melody. */
  beside: 0.1,
  softest: 0.55,
  loudest: 0.85,
} as const;

/** Where a note stands in its bar, for its loudness. */
export type Weight = 'firstBeat' | 'secondBeat' | 'beat' | 'offBeat' | 'between';

/**
 * What a dance's steps add to these levels.
 * @see Common practice: which places a dance leans on; how much is ours
 */
export const ACCENTS: Partial<Readonly<Record<DanceId, Partial<Readonly<Record<Weight, number>>>>>> = {
  reel: { offBeat: 0.02 },
  slide: { beat: -0.02 },
  hornpipe: { secondBeat: -0.02, between: -0.02 },
  barndance: { secondBeat: -0.02, between: -0.02 },
  strathspey: { firstBeat: 0.03, beat: 0.02, between: -0.03 },
  polka: { offBeat: 0.05 },
  march: { firstBeat: 0.03 },
  waltz: { firstBeat: 0.03, secondBeat: -0.04, beat: -0.04 },
  mazurka: { secondBeat: 0.06 },
};

/** Clicks, 0…1. Ours. */
export const CLICK_LEVELS = { accented: 0.8, plain: 0.65 } as const;
