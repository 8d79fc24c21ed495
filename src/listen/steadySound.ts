import { LISTENING_RATE } from './data.ts';
import { type FrameShape, frameCount, spectraOf } from './spectra.ts';

/** What is always there (drones, hum, hiss) is this share of all moments of some seconds. */
const SHARE = 0.3;
const SECONDS = 5;
/** Seconds between moments that it is told from, and how many of these until it is worked out anew. */
const EVERY = 0.093;
const STEP = 12;
/** The steady part of a sound: the power of each bin about a frame. */
export type SteadySound = (frame: number) => Float32Array;

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
        return (values[Math.floor(SHARE * values.length)] ?? 0) ** 2;
      }),
    );
  }
  const last = powers.length - 1;
  return (frame) => powers[Math.min(last, Math.round(frame / (every * STEP)))] as Float32Array;
};
