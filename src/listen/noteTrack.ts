import { FRAME_RATE, LOWEST_MIDI, SEMITONES } from './data.ts';
import type { Rises } from './rises.ts';
import type { Salience } from './salience.ts';

/** A stretch of one pitch. */
export interface Stretch {
  /** First frame, and the frame after the last. */
  readonly start: number;
  readonly end: number;
  /** Semitone as a MIDI number in the recording's own tuning. */
  readonly semitone: number;
}

/** Costs of the path, in frames of a full-strength note. */
interface PathCosts {
  /** Shortest note, seconds. */
  readonly shortest: number;
  /** Going to another pitch, and how much less where that pitch grows by `fullRise`. */
  readonly change: number;
  readonly changeRise: number;
  readonly fullRise: number;
  /** Beginning the same pitch again, and how much less for each unit that it sinks and grows. */
  readonly again: number;
  readonly againRise: number;
  /** What a clear new stroke on the same pitch gains at most. */
  readonly mostGain: number;
  /** Strength that silence counts as. */
  readonly silence: number;
  /** More for each semitone of a leap. */
  readonly leap: number;
}

/** Ours: tuned on one half of the generated recordings, of whose 257 repeated notes 30 (solo) were lost by growth alone. */
const USUAL_COSTS: PathCosts = {
  shortest: 0.05,
  change: 5,
  changeRise: 3.5,
  fullRise: 1.8,
  again: 4,
  againRise: 12,
  mostGain: 1.5,
  silence: 0.3,
  leap: 0.1,
};

/** State number of silence, behind the semitones. */
const SILENCE = SEMITONES;
const STATES = SEMITONES + 1;

interface Path {
  /** frames × STATES: whether the best path entered this state `shortest` frames before. */
  readonly entered: Uint8Array;
  /** frames × STATES: the state left when this one was entered at that frame. */
  readonly left: Uint8Array;
  readonly last: number;
}

/** Strengths so far of each state: running sums let a minimum length be taken in one step. */
const runningSums = (salience: Salience, silence: number): Float32Array => {
  const { frames, strength } = salience;
  const sums = new Float32Array((frames + 1) * STATES);
  for (let t = 0; t < frames; t += 1) {
    const from = t * STATES;
    let most = silence;
    for (let s = 0; s < SEMITONES; s += 1) {
      const x = Math.min(1.5, strength[t * SEMITONES + s] as number);
      most = Math.max(most, x);
    }
    for (let s = 0; s < STATES; s += 1) {
      const x = s === SILENCE ? silence : Math.min(1.5, strength[t * SEMITONES + s] as number);
      // Against the frame's best: sums stay small, and single precision suffices.
      sums[from + STATES + s] = (sums[from + s] as number) + x - most;
    }
  }
  return sums;
};

/**
 * What beginning the same pitch again costs. A guitar's stroke makes a pitch grow that did not sink before, so half of the
 * evidence is how far it had sunk.
 */
const priceAgain = (costs: PathCosts, rise: number, dip: number): number =>
  Math.max(-costs.mostGain, costs.again - costs.againRise * 0.5 * (rise + dip));

/** The best way into each state at a frame, from those that were open just before. */
const enter = (
  open: Float64Array,
  costs: PathCosts,
  rises: Rises,
  into: { best: Float64Array; left: Uint8Array; at: number },
): void => {
  for (let s = 0; s < STATES; s += 1) {
    const k = into.at * SEMITONES + s;
    const rise = s === SILENCE ? 0 : (rises.growth[k] as number);
    const again = s === SILENCE ? Infinity : priceAgain(costs, rise, rises.dips[k] as number);
    const change = costs.change - costs.changeRise * Math.min(1, rise / costs.fullRise);
    let best = -Infinity;
    let from = 0;
    for (let q = 0; q < STATES; q += 1) {
      const leap = q === SILENCE || s === SILENCE ? 0 : costs.leap * Math.abs(q - s);
      const score = (open[q] as number) - (q === s ? again : change + leap);
      if (score > best) {
        best = score;
        from = q;
      }
    }
    into.best[s] = best;
    into.left[into.at * STATES + s] = from;
  }
};

const bestPath = (salience: Salience, rises: Rises, costs: PathCosts): Path => {
  const { frames } = salience;
  const shortest = Math.max(1, Math.round(costs.shortest * FRAME_RATE));
  const sums = runningSums(salience, costs.silence);
  const entered = new Uint8Array(frames * STATES);
  const left = new Uint8Array(frames * STATES);
  const ways = Array.from({ length: shortest }, () => new Float64Array(STATES));
  const open = new Float64Array(STATES).fill(-Infinity);
  open[SILENCE] = 0;
  for (let t = 0; t < frames; t += 1) {
    // Enter at t from what is open before t; it opens at t + shortest − 1.
    enter(open, costs, rises, { best: ways[t % shortest] as Float64Array, left, at: t });
    const begun = t - shortest + 1;
    const ready = begun >= 0 ? ways[begun % shortest] : undefined;
    for (let s = 0; s < STATES; s += 1) {
      const on = (sums[(t + 1) * STATES + s] as number) - (sums[t * STATES + s] as number);
      const goes = (open[s] as number) + on;
      const comes =
        ready === undefined
          ? -Infinity
          : (ready[s] as number) +
            (sums[(t + 1) * STATES + s] as number) -
            (sums[begun * STATES + s] as number);
      if (comes > goes) entered[t * STATES + s] = 1;
      open[s] = Math.max(goes, comes);
    }
  }
  let last = SILENCE;
  for (let s = 0; s < STATES; s += 1) if ((open[s] as number) > (open[last] as number)) last = s;
  return { entered, left, last };
};

/**
 * The line of notes that explains the sound best: a path over (frame, semitone) with a price on every new note, lower
 * where something new is heard.
 * @param rises - where each semitone grows, and had sunk before
 */
export const noteTrack = (
  salience: Salience,
  rises: Rises,
  costs: PathCosts = USUAL_COSTS,
): readonly Stretch[] => {
  const shortest = Math.max(1, Math.round(costs.shortest * FRAME_RATE));
  const { entered, left, last } = bestPath(salience, rises, costs);
  const found: Stretch[] = [];
  let state = last;
  let end = salience.frames;
  for (let t = salience.frames - 1; t >= 0; ) {
    if (entered[t * STATES + state] !== 1) {
      t -= 1;
      continue;
    }
    const start = t - shortest + 1;
    if (state !== SILENCE) found.push({ start, end, semitone: LOWEST_MIDI + state });
    state = left[start * STATES + state] as number;
    end = start;
    t = start - 1;
  }
  return found.reverse();
};
