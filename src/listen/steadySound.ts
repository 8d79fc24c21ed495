import { LISTENING_RATE } from './data.ts';
import { type FrameShape, frameCount, spectraOf } from './spectra.ts';

/** What is always there (drones, hum, hiss) is this share of all moments of some seconds. */
const SHARE = 0.3;
const SECONDS = 5;
/** Seconds between moments that it is told from, and how many of these until it is worked out anew. */
const EVERY = 0.093;
const STEP = 12;
/**
 * How much of its power is taken away: more than there is, because a note on a drone's own pitch beats with it. Ours: of
 * 1.5, 3, 6 and 12 those between kept most notes under drones, in the tuning half.
 */
const TAKEN = 2.5;

/** The steady part of a sound. */
export interface SteadySound {
  /** Takes it from the amplitudes of a frame's bins. */
  readonly takenFrom: (bins: Float32Array, frame: number) => void;
}

/** What sounds all the time, as the power of each bin over stretches of some seconds. */
export const steadySound = (samples: Float32Array, frames: FrameShape): SteadySound => {
  const bins = frames.points / 2;
  const every = Math.max(1, Math.round((EVERY * LISTENING_RATE) / frames.hop));
  const spectra = spectraOf(samples, { ...frames, hop: frames.hop * every });
  const count = Math.ceil(frameCount(samples, frames.hop) / every);
  const sampled = Array.from({ length: count + 1 }, () => new Float32Array(bins));
  for (let t = 0; t < count; t += 2)
    spectra(t, sampled[t] as Float32Array, (sampled[t + 1] ?? sampled[count]) as Float32Array);
  const reach = Math.round((SECONDS * LISTENING_RATE) / frames.hop / every / 2);
  const powers: Float32Array[] = [];
  for (let middle = 0; middle <= count; middle += STEP) {
    const low = Math.max(0, Math.min(middle - reach, count - 2 * reach));
    const high = Math.min(count, Math.max(middle + reach, 2 * reach));
    const values = new Float32Array(high - low);
    powers.push(
      Float32Array.from({ length: bins }, (_, k) => {
        for (let t = low; t < high; t += 1) values[t - low] = (sampled[t] as Float32Array)[k] as number;
        values.sort();
        return TAKEN * (values[Math.floor(SHARE * values.length)] ?? 0) ** 2;
      }),
    );
  }
  return {
    takenFrom: (amplitudes, frame) => {
      const power = powers[Math.round(frame / (every * STEP))] ?? powers.at(-1);
      if (power === undefined) return;
      for (let k = 0; k < bins; k += 1)
        amplitudes[k] = Math.sqrt(Math.max(0, (amplitudes[k] as number) ** 2 - (power[k] as number)));
    },
  };
};
