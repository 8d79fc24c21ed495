import { type Decibels, decibels, type Hertz } from '../core/index.ts';
import { gainOf, levelOf, type StereoSound } from './buffers.ts';
import { loudnessOf } from './loudness.ts';
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

const apply = (samples: Float32Array, gain: number, limits: Float64Array | null, out: Float32Array): void => {
  for (let i = 0; i < out.length; i += 1) {
    const x = (samples[i] as number) * gain;
    if (limits === null) {
      out[i] = x;
      continue;
    }
    const place = (i + 0.5) / PEAK_RUN - 0.5;
    const run = Math.max(0, Math.floor(place));
    const a = limits[run] as number;
    const b = limits[Math.min(run + 1, limits.length - 1)] as number;
    out[i] = x * (a + (b - a) * Math.max(0, place - run));
  }
};

/** A sound of the same size, to be filled: one for all rounds, because a track is tens of megabytes. */
const emptyLike = ({ rate, left, right }: StereoSound): StereoSound => ({
  rate,
  left: new Float32Array(left.length),
  right: new Float32Array(right.length),
});

const applyGain = (
  sound: StereoSound,
  gain: number,
  limits: Float64Array | null,
  out: StereoSound,
): StereoSound => {
  apply(sound.left, gain, limits, out.left);
  apply(sound.right, gain, limits, out.right);
  return out;
};

/** The sound with a gain, and limited where a peak would pass the ceiling; written into `out`. */
const withGain = (sound: StereoSound, gain: number, ceiling: number, out: StereoSound): StereoSound => {
  const limits = limiterGains([sound.left, sound.right], ceiling / gain);
  const needed = limits.some((g) => g < 1);
  return applyGain(sound, gain, needed ? smoothed(limits, sound.rate) : null, out);
};

/**
 * Brings a track to its loudness without letting its peaks through: one gain for the whole track, and a look-ahead
 * limiter where a peak would still exceed the goal.
 * @returns the settled sound; silence and sounds under 400 ms come back unchanged
 */
export const settleLoudness = (sound: StereoSound, goal: LoudnessGoal = TRACK_GOAL): StereoSound => {
  const before = loudnessOf(sound);
  if (before === Number.NEGATIVE_INFINITY) return sound;
  let gain = gainOf(decibels(goal.loudness - before));
  const highest = gainOf(truePeakOf(sound));
  const out = emptyLike(sound);
  if (highest * gain <= gainOf(goal.peak)) return applyGain(sound, gain, null, out);
  const ceiling = gainOf(decibels(goal.peak + MARGIN));
  const settled = withGain(sound, gain, ceiling, out);
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const off = goal.loudness - loudnessOf(settled);
    const over = truePeakOf(settled) - goal.peak;
    if (Math.abs(off) <= CLOSE_ENOUGH && over <= 0) break;
    gain *= gainOf(decibels(off));
    const lower = gainOf(decibels(-Math.max(0, over) * (round + 1)));
    withGain(sound, gain, ceiling * Math.min(1, lower), out);
  }
  const left = levelOf(1) + goal.peak - truePeakOf(settled);
  // The last resort for material that is nearly all peak: the peak goal wins over the loudness goal.
  return left >= 0 ? settled : applyGain(settled, gainOf(decibels(left)), null, settled);
};
