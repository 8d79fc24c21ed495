import type { Accent, SiteKind } from '../../fiddle/index.ts';
import type { DanceId } from '../../music/index.ts';

// All of this is ours, set so that what comes out is what a fiddler would play, read over the demo tunes and tunes of the
// shared collections; printed graces were not tuned to. What it rests on is common practice.

/** What each kind is worth by itself. */
export const WORTH: Readonly<Record<SiteKind, number>> = {
  longRoll: 2.4,
  shortRoll: 1.6,
  treble: 1.6,
  runTriplet: 1.2,
  cut: 1,
  doubleGrace: 0.9,
  unison: 0.9,
  slide: 0.9,
  drone: 0.8,
};

/** What a dance adds: hornpipes like triplets, strathspeys birls, waltzes and airs slides and drones. */
export const LIKING: Readonly<Record<DanceId, Partial<Readonly<Record<SiteKind, number>>>>> = {
  reel: { longRoll: 0.3, treble: 0.3 },
  jig: { longRoll: 0.3, cut: 0.3, treble: -0.7, runTriplet: -0.6 },
  slipJig: { longRoll: 0.3, cut: 0.3, treble: -0.7, runTriplet: -0.6 },
  slide: { longRoll: -0.4, cut: 0.3, treble: 0.1, runTriplet: -0.8 },
  hornpipe: { runTriplet: 0.8, treble: 0.3, longRoll: -0.4, shortRoll: -0.4 },
  barndance: { runTriplet: 0.8, treble: 0.3, longRoll: -0.4, shortRoll: -0.4 },
  strathspey: { treble: 0.5, cut: 0.4, longRoll: -0.8, shortRoll: -0.8, runTriplet: 0.2 },
  polka: { cut: 0.5, treble: 0.1, longRoll: -0.8, shortRoll: -0.6, runTriplet: -0.2 },
  march: { cut: 0.5, treble: -0.2, longRoll: -0.6, shortRoll: -0.4 },
  compoundMarch: { cut: 0.5, treble: -0.5, longRoll: -0.4, shortRoll: -0.4, runTriplet: -0.6 },
  waltz: { slide: 0.6, drone: 0.6, treble: -1.2, shortRoll: -0.3, longRoll: -0.3 },
  mazurka: { cut: 0.3, treble: 0.2, drone: 0.3 },
  threeTwo: { treble: 0.2, runTriplet: 0.3 },
  setDance: { runTriplet: 0.6, treble: 0.2 },
  air: { slide: 0.8, drone: 0.6, cut: 0.4, treble: -2, longRoll: -0.4, shortRoll: -0.4, runTriplet: -0.4 },
  tune: {},
};

/** What the accent of the place adds. */
export const ON: Readonly<Record<Accent, number>> = { bar: 0.5, beat: 0.4, offBeat: 0.1, none: 0 };

/** What else speaks for a place, or against it. */
export const FOR = {
  /** A cut that parts two notes of one pitch. */
  partsEqual: 1.2,
  /** The note belongs to the chord. */
  chordTone: 0.2,
  /** A treble on an open string, under the first finger, under another. */
  trebleOpen: 0.4,
  trebleFirst: 0.3,
  /** A flick of the little finger, and one that it must be stretched for. */
  littleFinger: -0.4,
  /** A cut that takes the fourth finger from a note that it was good for. */
  refingered: -0.6,
  /** A roll in place of three notes, whose middle one is lost. */
  lostNote: -0.9,
  /** The last note of a part, for a drone. */
  lastNote: 0.9,
  /** The open string is the root of the chord, or another tone of it. */
  ringsRoot: 0.4,
  ringsInChord: 0.2,
} as const;

/** What each further ornament of a kind costs in its part: a part lives on variety. */
export const OF_A_KIND = 0.3;
/** Nothing is suggested that is worth less. */
export const LEAST = 1.3;
/** What it costs that a bar follows itself: the same ornament twice running is dull. */
export const TWICE_RUNNING = 0.5;

/** Ornaments for each full bar of a part, written ones included: three, six and eight in the usual eight bars. */
export const A_BAR = { few: 0.4, usual: 0.75, many: 1 } as const;
