import { filtered, highPass, resampled } from '../../dist/signal/index.js';
import { hertzOf, movingMean } from './harmonics.mjs';
import { baked } from './loop.mjs';

/** The attack begins where the sound first passes this share of its highest peak. */
const ONSET_SHARE = 0.04;
/** What lies below this share of the note's frequency is rumble. */
const RUMBLE_SHARE = 0.5;
const LOOP_SECONDS = 0.35;
const FADE_SECONDS = 0.1;
/** The decay is measured from here on: before, the pluck itself dies away. */
const DECAY_FROM_SECONDS = 0.25;
/** dB a second: no string rings for ever. */
const LEAST_DECAY = 4;

/** Decay over a stretch, dB a second (a positive number falls), by a straight line through the level. */
const decayOf = (samples, rate, from, to) => {
  const power = movingMean(
    Float64Array.from(samples, (x) => x * x),
    Math.round(0.03 * rate),
  );
  let n = 0;
  let [st, sl, stt, stl] = [0, 0, 0, 0];
  for (let i = from; i < to; i += 32) {
    const t = i / rate;
    const level = 10 * Math.log10(power[i] + 1e-12);
    n += 1;
    st += t;
    sl += level;
    stt += t * t;
    stl += t * level;
  }
  return -(n * stl - st * sl) / (n * stt - st * st);
};

/** From `from` on, the sample at the level that it has there. */
const levelled = (samples, from, rate) => {
  const power = movingMean(
    Float64Array.from(samples, (x) => x * x),
    Math.round(0.06 * rate),
  );
  return samples.map((x, i) => (i < from ? x : x * Math.sqrt(power[from] / (power[i] + 1e-12))));
};

/**
 * Makes a plucked sample start at once and ring on in a loop whose own decay is taken out; the sampler puts it back.
 * @returns {{ samples: Float32Array, loopStart: number, loopEnd: number, decay: number, likeness: number }}
 */
export const ringingTone = (source, { root, seconds, rate }) => {
  const low = highPass(RUMBLE_SHARE * hertzOf(root), rate);
  const samples = filtered(resampled(source.samples, source.rate, rate), [low]);
  const peak = samples.reduce((m, x) => Math.max(m, Math.abs(x)), 0);
  const onset = Math.max(
    0,
    samples.findIndex((x) => Math.abs(x) > ONSET_SHARE * peak) - Math.round(0.0005 * rate),
  );
  const end = Math.min(samples.length - onset, Math.round(seconds * rate));
  const kept = samples.slice(onset, onset + end);
  const fade = Math.round(FADE_SECONDS * rate);
  const from = end - Math.round(LOOP_SECONDS * rate);
  const decay = Math.max(LEAST_DECAY, decayOf(kept, rate, Math.round(DECAY_FROM_SECONDS * rate), end));
  const looped = baked(levelled(kept, from - fade, rate), { from, end, fade, period: rate / hertzOf(root) });
  const out = looped.samples;
  return { samples: out, loopStart: looped.start, loopEnd: looped.end, decay, likeness: looped.likeness };
};
