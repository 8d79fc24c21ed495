import { filtered, highPass, readEvenly } from '../../dist/signal/index.js';
import { balancedTo } from './colour.mjs';
import { hertzOf, movingMean, phaseAhead, slowAmplitude } from './harmonics.mjs';
import { baked } from './loop.mjs';

// A bowed sample is stored as steady tone: no attack, no vibrato, no swelling. The sampler bows it itself.

/** Highest frequency whose partials are steadied. */
const STEADIED_UP_TO = 14_000;
/** How much of a partial's own swelling is taken away, in decibels of decibels. Ours: all of it sounds like an organ. */
const STEADINESS = 0.85;
/** A partial is never raised or lowered by more than this factor. */
const MOST_CHANGE = 2.5;
/** What lies below this share of the note's frequency is rumble. */
const RUMBLE_SHARE = 0.6;
const FADE_SECONDS = 0.12;

/** Takes the vibrato out: reads the sample so that its phase runs evenly, at the exact pitch of its key. */
const evenPitch = (samples, rate, key) => {
  const frequency = hertzOf(key);
  const ahead = phaseAhead(samples, rate, frequency);
  const phase = Float64Array.from(ahead, (a, i) => (2 * Math.PI * frequency * i) / rate + a);
  const perSample = (2 * Math.PI * frequency) / rate;
  const count = Math.floor((phase[phase.length - 1] - phase[0]) / perSample);
  const out = new Float32Array(count);
  const block = 16;
  let at = 0;
  const timeOf = (n) => {
    const wanted = phase[0] + n * perSample;
    while (at + 2 < phase.length && phase[at + 1] < wanted) at += 1;
    return at + (wanted - phase[at]) / (phase[at + 1] - phase[at]);
  };
  let from = timeOf(0);
  for (let n = 0; n < count; n += block) {
    const next = timeOf(Math.min(count, n + block));
    const length = Math.min(block, count - n);
    out.set(readEvenly(samples, { from, step: (next - from) / length, count: length }), n);
    from = next;
  }
  return out;
};

/** Keeps every partial near its own mean level and at one phase, so that the colour stands still and the loop fits. */
const evenColour = (samples, rate, key) => {
  const frequency = hertzOf(key);
  const out = Float64Array.from(samples);
  for (let k = 1; k * frequency < STEADIED_UP_TO; k += 1) {
    const partial = {
      frequency: k * frequency,
      period: rate / frequency,
      seconds: Math.max(0.007, 2.5 / frequency),
    };
    const { real, imaginary } = slowAmplitude(samples, rate, partial);
    const sizes = Float64Array.from(real, (re, i) => Math.hypot(re, imaginary[i]));
    const logMean = Math.exp(sizes.reduce((sum, s) => sum + Math.log(s + 1e-9), 0) / sizes.length);
    const turn = (2 * Math.PI * k * frequency) / rate;
    const phase = Math.atan2(
      imaginary.reduce((a, b) => a + b, 0),
      real.reduce((a, b) => a + b, 0),
    );
    for (let i = 0; i < out.length; i += 1) {
      const wanted = (logMean / (sizes[i] + 1e-9)) ** STEADINESS;
      const size = sizes[i] * Math.min(MOST_CHANGE, Math.max(1 / MOST_CHANGE, wanted));
      out[i] += size * Math.cos(turn * i + phase);
      out[i] -= real[i] * Math.cos(turn * i) - imaginary[i] * Math.sin(turn * i);
    }
  }
  return Float32Array.from(out);
};

const evenLevel = (samples, rate) => {
  const width = Math.round(0.025 * rate);
  const power = movingMean(
    Float64Array.from(samples, (x) => x * x),
    width,
  );
  const mean = power.reduce((a, b) => a + b, 0) / power.length;
  return Float32Array.from(samples, (x, i) => x * Math.sqrt(mean / (power[i] + 1e-12)));
};

/** Where the tone is established: 90 % of its usual strength for the first time, and 60 ms more. */
const established = (samples, rate) => {
  const power = movingMean(
    Float64Array.from(samples, (x) => x * x),
    Math.round(0.03 * rate),
  );
  const usual = Float64Array.from(power).sort()[Math.floor(power.length * 0.6)];
  return power.findIndex((p) => p > 0.5 * usual) + Math.round(0.06 * rate);
};

/**
 * Makes a bowed sample into a steady, exactly tuned, looped tone.
 * @returns {{ samples: Float32Array, loopStart: number, loopEnd: number, likeness: number }}
 */
export const steadyTone = ({ samples, rate }, { root, seconds, brightness }) => {
  const even = evenPitch(samples, rate, root);
  const from = established(even, rate);
  // The averaging windows are cut short at the ends: leave them out.
  const margin = Math.round(0.03 * rate);
  const steady = evenColour(even.subarray(from - margin, even.length - margin), rate, root);
  const low = highPass(RUMBLE_SHARE * hertzOf(root), rate);
  const clean = filtered(balancedTo(steady, rate, brightness(root)), [low, low]);
  const tone = evenLevel(clean, rate);
  const period = rate / hertzOf(root);
  const kept = tone.subarray(margin, Math.min(tone.length - 1, margin + Math.round(seconds * rate)));
  const fade = Math.round(FADE_SECONDS * rate);
  const looped = baked(kept, { from: fade + Math.round(0.02 * rate), end: kept.length, fade, period });
  return { samples: looped.samples, loopStart: looped.start, loopEnd: looped.end, likeness: looped.likeness };
};
