/** A stretch of a stem that is being filled. */
export interface Stretch {
  readonly samples: Float32Array;
  /** The stem's sample that stands first in it. */
  readonly from: number;
}

/** A sound that somebody plays into a stem. */
export interface Sounding {
  /** The first sample of the stem that it can change, and the first after it that it cannot. */
  readonly start: number;
  readonly end: number;
  readonly play: (into: Stretch) => void;
}

/**
 * Plays a stem stretch by stretch, so that a long track needs no more memory than a short one.
 *
 * What rings beyond a stretch is kept for the next ones.
 * @param soundings - by start
 * @param length - of a stretch, in samples
 * @returns gives the next stretch at each call, the same array each time
 */
export const stemInStretches = (soundings: readonly Sounding[], length: number): (() => Float32Array) => {
  const longest = soundings.reduce((most, s) => Math.max(most, s.end - s.start), 0);
  const samples = new Float32Array(length + longest);
  let from = 0;
  let next = 0;
  return () => {
    if (from > 0) {
      samples.copyWithin(0, length);
      samples.fill(0, longest);
    }
    for (let s = soundings[next]; s !== undefined && s.start < from + length; s = soundings[next]) {
      s.play({ samples, from });
      next += 1;
    }
    from += length;
    return samples.subarray(0, length);
  };
};
