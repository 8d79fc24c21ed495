import { type Decibels, decibels, type Hertz } from '../core/index.ts';
import { freshSilence, gainOf, levelOf, type StereoSound } from './buffers.ts';
import { loudnessMeter, loudnessOf } from './loudness.ts';
import { PEAK_RUN, truePeakOf, visitPeaks } from './truePeak.ts';

/** What a finished track must measure. */
export interface LoudnessGoal {
  /** Integrated loudness, LUFS. */
  readonly loudness: Decibels;
  /** True peak at most, dBTP. */
  readonly peak: Decibels;
}

/**
 * Play-along tracks: as loud as what else a phone plays. Common practice: −16 LUFS, true peak at most −1 dBTP after
 * encoding. Ours: 0.6 dB lower before it, because MP3 at 128 kbit/s lifted the peaks of backing alone by up to 0.3 dB.
 */
export const TRACK_GOAL: LoudnessGoal = { loudness: decibels(-16), peak: decibels(-1.6) };

/** The limiter's gain falls and rises over this time on either side of a peak. Ours: shorter is heard as a click. */
const SLOPE_SECONDS = 0.012;
/** The limiter aims a little lower: its own gain moves the curve between samples. Ours. */
const MARGIN = decibels(-0.15);
/** Gain and limiter are settled again while the loudness is off by more than this, in LU. Ours. */
const CLOSE_ENOUGH = 0.05;
const MOST_ROUNDS = 4;

/** Gain (0…1) for each run of samples so that no true peak exceeds `ceiling`, the same for both channels. */
const limiterGains = (channels: readonly Float32Array[], ceiling: number): Float64Array => {
  const runs = Math.ceil((channels[0]?.length ?? 0) / PEAK_RUN);
  const gains = new Float64Array(runs).fill(1);
  for (const samples of channels) {
    visitPeaks(
      samples,
      () => ceiling,
      (from, peak) => {
        const run = from / PEAK_RUN;
        // The run after it, too: the peak may lie between the two.
        for (const at of [run, run + 1])
          if (at < runs) gains[at] = Math.min(gains[at] as number, ceiling / peak);
      },
    );
  }
  return gains;
};

/** Spreads each dip of the gain to both sides along a raised cosine, so that it is never heard as a step. */
const smoothed = (gains: Float64Array, rate: Hertz): Float64Array => {
  const reach = Math.max(1, Math.round((SLOPE_SECONDS * rate) / PEAK_RUN));
  const shape = Float64Array.from(
    { length: reach + 2 },
    (_, i) => 0.5 + 0.5 * Math.cos((Math.PI * Math.max(0, i - 1)) / (reach + 1)),
  );
  const out = new Float64Array(gains.length).fill(1);
  gains.forEach((gain, at) => {
    if (gain >= 1) return;
    for (let k = -reach - 1; k <= reach + 1; k += 1) {
      const i = at + k;
      if (i < 0 || i >= out.length) continue;
      out[i] = Math.min(out[i] as number, 1 - (1 - gain) * (shape[Math.abs(k)] ?? 0));
    }
  });
  return out;
};

/** What is done to a sound: one gain for all of it, and the limiter's gains for each run where it is needed. */
interface Change {
  readonly gain: number;
  readonly limits: Float64Array | null;
}

/** Writes `out.length` changed samples, from sample `from` on. */
const changed = (samples: Float32Array, from: number, { gain, limits }: Change, out: Float32Array): void => {
  for (let k = 0; k < out.length; k += 1) {
    const i = from + k;
    const x = (samples[i] as number) * gain;
    if (limits === null) {
      out[k] = x;
      continue;
    }
    const place = (i + 0.5) / PEAK_RUN - 0.5;
    const run = Math.max(0, Math.floor(place));
    const a = limits[run] as number;
    const b = limits[Math.min(run + 1, limits.length - 1)] as number;
    out[k] = x * (a + (b - a) * Math.max(0, place - run));
  }
};

/** The sound changed, written into `out`, which may be the sound itself. */
const withChange = (sound: StereoSound, change: Change, out: StereoSound): StereoSound => {
  changed(sound.left, 0, change, out.left);
  // A mono recording has one array for both sides.
  if (out.right !== out.left) changed(sound.right, 0, change, out.right);
  return out;
};

/** Samples that are changed and measured at a time, and how many on either side the true peak looks at. */
const WINDOW = 1 << 15;
const AROUND = 2 * PEAK_RUN;

interface Measured {
  readonly loudness: Decibels;
  readonly peak: Decibels;
}

/** Loudness and true peak that a sound would have when it is changed: stretch by stretch, so that it needs no room. */
const measuredWith = ({ rate, left, right }: StereoSound, change: Change): Measured => {
  const meter = loudnessMeter(left.length, rate);
  const room = new Float32Array(WINDOW + 2 * AROUND);
  let highest = 0;
  for (const samples of [left, right]) {
    const feed = meter.channel();
    for (let from = 0; from < samples.length; from += WINDOW) {
      const first = Math.max(0, from - AROUND);
      const window = room.subarray(0, Math.min(samples.length, from + WINDOW + AROUND) - first);
      changed(samples, first, change, window);
      const within = { from: from - first, to: Math.min(samples.length, from + WINDOW) - first };
      feed(window.subarray(within.from, within.to));
      visitPeaks(
        window,
        () => highest,
        (_, peak) => {
          highest = peak;
        },
        within,
      );
    }
  }
  return { loudness: meter.loudness(), peak: levelOf(highest) };
};

/** A gain, and the limiter's where a peak would pass the ceiling. */
const limitedTo = (ceiling: number, gain: number, sound: StereoSound): Change => {
  const limits = limiterGains([sound.left, sound.right], ceiling / gain);
  const needed = limits.some((g) => g < 1);
  return { gain, limits: needed ? smoothed(limits, sound.rate) : null };
};

/**
 * Brings a track to its loudness without letting its peaks through: one gain for the whole track, and a look-ahead
 * limiter where a peak would still exceed the goal.
 * @param into - where the settled sound is written; a sound of the same size, or the sound itself when it is not needed
 *   any more: a track is tens of megabytes
 * @returns the settled sound; silence and sounds under 400 ms come back unchanged
 */
export const settleLoudness = (
  sound: StereoSound,
  goal: LoudnessGoal = TRACK_GOAL,
  into: StereoSound = freshSilence(sound.left.length, sound.rate),
): StereoSound => {
  const before = loudnessOf(sound);
  if (before === Number.NEGATIVE_INFINITY) return sound;
  let gain = gainOf(decibels(goal.loudness - before));
  const highest = gainOf(truePeakOf(sound));
  if (highest * gain <= gainOf(goal.peak)) return withChange(sound, { gain, limits: null }, into);
  const ceiling = gainOf(decibels(goal.peak + MARGIN));
  let change = limitedTo(ceiling, gain, sound);
  let measured = measuredWith(sound, change);
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const off = goal.loudness - measured.loudness;
    const over = measured.peak - goal.peak;
    if (Math.abs(off) <= CLOSE_ENOUGH && over <= 0) break;
    gain *= gainOf(decibels(off));
    const lower = gainOf(decibels(-Math.max(0, over) * (round + 1)));
    change = limitedTo(ceiling * Math.min(1, lower), gain, sound);
    measured = measuredWith(sound, change);
  }
  const settled = withChange(sound, change, into);
  const left = levelOf(1) + goal.peak - measured.peak;
  // The last resort for material that is nearly all peak: the peak goal wins over the loudness goal.
  return left >= 0 ? settled : withChange(settled, { gain: gainOf(decibels(left)), limits: null }, settled);
};
