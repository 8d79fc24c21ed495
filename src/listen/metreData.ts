import type { DanceId } from '../music/index.ts';

/** What stands on a quaver: nothing, a quaver (or shorter), a longer note. */
export type Standing = 0 | 1 | 2;

/** A kind of bar that listening can tell. */
export interface BarKind {
  readonly dance: DanceId;
  /** Metre as written. */
  readonly count: number;
  readonly unit: number;
  readonly quavers: number;
  /** Quavers of the beat. */
  readonly beat: number;
  /** For each quaver of the bar, how often nothing, a quaver, a longer note stands on it. */
  readonly profile: readonly (readonly [number, number, number])[];
  /** For each quaver of the bar, the share of notes on it that belong to the keynote's triad, major or minor. */
  readonly triad: readonly number[];
  /** Quavers of the pick-ups that tunes begin with; 0: none. */
  readonly pickups: readonly number[];
  /** On which quavers of the bar the last note of a tune begins, and in which share of the tunes. */
  readonly ending: Readonly<Record<number, number>>;
}

/**
 * Source of the profiles: counted in every second tune of the shared halves of O'Neill 1903 and of the Nottingham Music
 * Database (155 jigs, 23 slip jigs, 179 reels, 59 hornpipes, 16 waltzes), all full bars. Triads and endings: as the
 * profiles, in 69 jigs, 20 slip jigs, 71 reels and 50 hornpipes. The polka's is the reel's half bar: too few polkas are
 * named. The waltz's triads and ending: ours.
 * Pick-ups: those of 71 reels, 68 hornpipes, 69 jigs and 20 slip jigs among them; the polka's and the waltz's: common practice.
 */
export const BAR_KINDS: readonly BarKind[] = [
  {
    dance: 'reel',
    count: 4,
    unit: 4,
    quavers: 8,
    beat: 4,
    profile: [
      [0.017, 0.476, 0.507],
      [0.55, 0.436, 0.014],
      [0.169, 0.581, 0.25],
      [0.395, 0.593, 0.012],
      [0.087, 0.452, 0.461],
      [0.542, 0.455, 0.003],
      [0.135, 0.557, 0.308],
      [0.42, 0.579, 0.001],
    ],
    triad: [0.673, 0.615, 0.601, 0.488, 0.561, 0.584, 0.553, 0.464],
    pickups: [0, 1, 2],
    ending: { 4: 0.24, 6: 0.35, 7: 0.41 },
  },
  {
    dance: 'hornpipe',
    count: 4,
    unit: 4,
    quavers: 8,
    beat: 2,
    profile: [
      [0.001, 0.65, 0.349],
      [0.446, 0.545, 0.009],
      [0.023, 0.689, 0.288],
      [0.356, 0.634, 0.01],
      [0.01, 0.545, 0.445],
      [0.498, 0.501, 0.001],
      [0.024, 0.708, 0.268],
      [0.331, 0.668, 0.001],
    ],
    triad: [0.646, 0.581, 0.589, 0.542, 0.613, 0.431, 0.588, 0.433],
    pickups: [0, 1, 2],
    ending: { 0: 0.02, 4: 0.92, 6: 0.06 },
  },
  {
    dance: 'jig',
    count: 6,
    unit: 8,
    quavers: 6,
    beat: 3,
    profile: [
      [0.001, 0.665, 0.334],
      [0.34, 0.657, 0.003],
      [0.089, 0.91, 0.001],
      [0.025, 0.634, 0.341],
      [0.36, 0.639, 0.001],
      [0.058, 0.941, 0.001],
    ],
    triad: [0.663, 0.487, 0.649, 0.558, 0.525, 0.53],
    pickups: [0, 1],
    ending: { 3: 0.87, 5: 0.13 },
  },
  {
    dance: 'slipJig',
    count: 9,
    unit: 8,
    quavers: 9,
    beat: 3,
    profile: [
      [0.003, 0.67, 0.327],
      [0.353, 0.644, 0.003],
      [0.03, 0.967, 0.003],
      [0.003, 0.68, 0.317],
      [0.343, 0.654, 0.003],
      [0.023, 0.974, 0.003],
      [0.003, 0.62, 0.377],
      [0.39, 0.607, 0.003],
      [0.03, 0.967, 0.003],
    ],
    triad: [0.695, 0.468, 0.576, 0.512, 0.422, 0.684, 0.443, 0.431, 0.547],
    pickups: [0, 1],
    ending: { 3: 0.1, 6: 0.4, 8: 0.5 },
  },
  {
    dance: 'polka',
    count: 2,
    unit: 4,
    quavers: 4,
    beat: 2,
    profile: [
      [0.05, 0.46, 0.49],
      [0.55, 0.44, 0.01],
      [0.15, 0.57, 0.28],
      [0.41, 0.58, 0.01],
    ],
    triad: [0.617, 0.6, 0.577, 0.476],
    pickups: [0, 1, 2],
    ending: { 2: 0.59, 3: 0.41 },
  },
  {
    dance: 'waltz',
    count: 3,
    unit: 4,
    quavers: 6,
    beat: 2,
    profile: [
      [0.038, 0.015, 0.947],
      [0.982, 0.009, 0.009],
      [0.566, 0.06, 0.374],
      [0.763, 0.235, 0.002],
      [0.126, 0.145, 0.729],
      [0.846, 0.152, 0.002],
    ],
    triad: [0.66, 0.55, 0.56, 0.55, 0.56, 0.55],
    pickups: [0, 1, 2],
    ending: { 0: 0.7, 2: 0.15, 4: 0.15 },
  },
];

/** Bars of a phrase that comes back, in nearly every dance tune. Common practice. */
export const PHRASE_BARS = 8;
