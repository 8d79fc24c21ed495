import { type Decibels, decibels, type Hertz } from '../core/index.ts';

/** One channel of sound: samples nominally −1…1. */
export interface MonoSound {
  readonly rate: Hertz;
  readonly samples: Float32Array;
}

/** Two channels of equal length, samples nominally −1…1. */
export interface StereoSound {
  readonly rate: Hertz;
  readonly left: Float32Array;
  readonly right: Float32Array;
}

/** Sound of any number of channels. */
export type Sound = MonoSound | StereoSound;

/** The channels of a sound, left first. */
export const channelsOf = (sound: Sound): readonly Float32Array[] =>
  'samples' in sound ? [sound.samples] : [sound.left, sound.right];

/** Makes silence of so many samples, to be filled. */
export type SilenceOf = (frames: number, rate: Hertz) => StereoSound;

/** Silence that is nobody else's. */
export const freshSilence: SilenceOf = (frames, rate) => ({
  rate,
  left: new Float32Array(frames),
  right: new Float32Array(frames),
});

/** Silence in the place of the one before, whose samples are gone: one long track's memory for many. */
export const reusedSilence = (): SilenceOf => {
  let room = new Float32Array(0);
  return (frames, rate) => {
    if (room.length < 2 * frames) room = new Float32Array(2 * frames);
    else room.fill(0, 0, 2 * frames);
    return { rate, left: room.subarray(0, frames), right: room.subarray(frames, 2 * frames) };
  };
};

/** The factor on samples that a level change stands for: 6.02 dB → 2. */
export const gainOf = (level: Decibels): number => 10 ** (level / 20);

/** The level change that a factor on samples stands for: 2 → 6.02 dB, 0 → −Infinity. The sign is ignored. */
export const levelOf = (gain: number): Decibels => decibels(20 * Math.log10(Math.abs(gain)));

/** Root mean square of the samples from `from` to before `to`; 0 for an empty range. */
export const rmsOf = (samples: Float32Array, from = 0, to = samples.length): number => {
  const first = Math.max(0, from);
  const last = Math.min(samples.length, to);
  if (last <= first) return 0;
  let sum = 0;
  for (let i = first; i < last; i += 1) {
    const x = samples[i] ?? 0;
    sum += x * x;
  }
  return Math.sqrt(sum / (last - first));
};
