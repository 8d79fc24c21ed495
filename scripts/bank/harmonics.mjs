// Following the harmonics of one sustained note through time.

/** Hertz of a MIDI key, A4 = 440 Hz. */
export const hertzOf = (key) => 440 * 2 ** ((key - 69) / 12);

/** A moving average over `width` samples, centred; the ends average what there is. */
export const movingMean = (values, width) => {
  const sums = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i += 1) sums[i + 1] = sums[i] + values[i];
  const half = Math.floor(width / 2);
  return Float64Array.from(values, (_, i) => {
    const from = Math.max(0, i - half);
    const to = Math.min(values.length, i - half + width);
    return (sums[to] - sums[from]) / (to - from);
  });
};

/**
 * A harmonic's slow complex amplitude: the sound turned down by `frequency`, averaged twice over a whole number of
 * periods, so that every other harmonic of the same note averages out.
 */
export const slowAmplitude = (samples, rate, { frequency, period, seconds }) => {
  const width = Math.max(1, Math.round(Math.max(1, Math.round((seconds * rate) / period)) * period));
  const turn = (2 * Math.PI * frequency) / rate;
  const smooth = (values) => movingMean(movingMean(values, width), width);
  const real = smooth(Float64Array.from(samples, (x, i) => 2 * x * Math.cos(turn * i)));
  const imaginary = smooth(Float64Array.from(samples, (x, i) => -2 * x * Math.sin(turn * i)));
  return { real, imaginary };
};

/**
 * How far has the note's phase run ahead of `frequency`, in radians of the fundamental, at every sample?
 *
 * The first harmonics say so together, each as much as it is strong.
 */
export const phaseAhead = (samples, rate, frequency, { harmonics = 4, seconds = 0.02 } = {}) => {
  const period = rate / frequency;
  const partials = Array.from({ length: harmonics }, (_, k) =>
    slowAmplitude(samples, rate, { frequency: frequency * (k + 1), period, seconds }),
  );
  const ahead = new Float64Array(samples.length);
  for (let i = 1; i < samples.length; i += 1) {
    let sum = 0;
    let weights = 0;
    partials.forEach(({ real, imaginary }, k) => {
      const re = real[i] * real[i - 1] + imaginary[i] * imaginary[i - 1];
      const im = imaginary[i] * real[i - 1] - real[i] * imaginary[i - 1];
      const weight = Math.hypot(re, im) * (k + 1);
      sum += (Math.atan2(im, re) / (k + 1)) * weight;
      weights += weight;
    });
    ahead[i] = ahead[i - 1] + (weights > 0 ? sum / weights : 0);
  }
  return ahead;
};

/** Mean pitch of a stretch against `frequency`, in cents. */
export const centsAgainst = (samples, rate, frequency, [from, to]) => {
  const ahead = phaseAhead(samples, rate, frequency);
  const perSample = (ahead[to - 1] - ahead[from]) / (to - 1 - from);
  return 1200 * Math.log2(1 + (perSample * rate) / (2 * Math.PI * frequency));
};
