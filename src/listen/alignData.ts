/**
 * What the alignment of a recording with a written tune prices, in shares of a note that fits.
 * @see Ours: tuned on one half of the generated recordings of measure/listenParts
 */
export const PRICE = {
  /** A heard note on a written one of its pitch; one octave off; any other pitch. */
  fits: 1,
  octaveOff: -0.1,
  otherPitch: -0.7,

  /** A heard note that stands for nothing written: short ones are ornaments; one of the pitch before is struck again. */
  extra: 0.5,
  extraShort: 0.12,
  extraAgain: 0.12,
  /** Notes shorter than this are ornaments, seconds. */
  short: 0.085,
  /** A written note that wasn't heard. */
  missed: 0.55,

  /** Heard and written notes that one step may pass over. */
  reach: 4,

  /** Price of a step's length against the tempo: this times the squared logarithm of their ratio, at most `worstTiming`. */
  timing: 3.5,
  worstTiming: 2.5,
  /** How quickly the tempo follows what is played. */
  follows: 0.12,

  /** Going on with another section than the one that is written next. */
  otherSection: 1.5,
  /** Leaving the tune (a stop, talk) and coming back where it was left, or at any other bar. */
  comesBack: 3,
  comesBackElsewhere: 5,
  /** A heard note while the tune is left. */
  outside: 0.05,
} as const;
