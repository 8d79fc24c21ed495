// Predictive coding of a sample: what the samples before foretell (linear prediction, Levinson and Durbin's recursion on
// the autocorrelation), and the rest in few bits with a step that follows its size. The decoder hears its own past, so
// errors do not add up.

/** How many samples before are looked at. Ours: more gain nothing on the bank. */
const ORDER = 32;
/** The step is chosen anew after so many samples. Ours. */
const RUN = 64;
/** Steps are powers of this ratio, so that a run's step is one small number. */
const STEP_RATIO = 2 ** 0.5;
/** As if so much white noise lay under the tone: what is foretold from coded samples must bear their error. Ours. */
const WHITE = 1e-4;

const autocorrelation = (x: Float32Array): Float64Array => {
  const r = new Float64Array(ORDER + 1);
  for (let lag = 0; lag <= ORDER; lag += 1) {
    let sum = 0;
    for (let i = lag; i < x.length; i += 1) sum += (x[i] as number) * (x[i - lag] as number);
    r[lag] = sum;
  }
  r[0] = (r[0] as number) * (1 + WHITE) + 1e-12;
  return r;
};

/**
 * The weights with which the samples before foretell the next one, nearest first.
 * @see Source: J. Durbin, "The fitting of time-series models", 1960 (the recursion)
 */
export const predictorOf = (samples: Float32Array): readonly number[] => {
  const r = autocorrelation(samples);
  const a = new Float64Array(ORDER + 1);
  let error = r[0] as number;
  for (let order = 1; order <= ORDER; order += 1) {
    let sum = r[order] as number;
    for (let k = 1; k < order; k += 1) sum -= (a[k] as number) * (r[order - k] as number);
    const reflection = sum / error;
    const before = a.slice();
    a[order] = reflection;
    for (let k = 1; k < order; k += 1)
      a[k] = (before[k] as number) - reflection * (before[order - k] as number);
    error *= 1 - reflection * reflection;
  }
  // What the page stores and what the encoder used must be the same numbers.
  return Array.from(a.subarray(1), (weight) => Number(weight.toPrecision(9)));
};

const foretold = (past: Float64Array, at: number, weights: readonly number[]): number => {
  let sum = 0;
  for (let k = 0; k < weights.length; k += 1)
    sum += (weights[k] as number) * (past[at + ORDER - 1 - k] as number);
  return sum;
};

/** Codes one run from what was decoded before it; the decoded samples stand in `past` afterwards. */
const codeRun = (
  samples: Float32Array,
  from: number,
  run: { readonly past: Float64Array; readonly weights: readonly number[]; readonly bits: number },
  step: number,
): { readonly codes: Int8Array; readonly error: number } => {
  const { past, weights, bits } = run;
  const most = 2 ** (bits - 1) - 1;
  const count = Math.min(RUN, samples.length - from);
  const codes = new Int8Array(count);
  let error = 0;
  for (let i = 0; i < count; i += 1) {
    const expected = foretold(past, from + i, weights);
    const x = samples[from + i] as number;
    const code = Math.max(-most - 1, Math.min(most, Math.round((x - expected) / step)));
    codes[i] = code;
    const decoded = expected + code * step;
    past[from + i + ORDER] = decoded;
    error += (x - decoded) ** 2;
  }
  return { codes, error };
};

/** Steps that are tried under and over the one of the run before; beyond, as long as it gets better. Ours. */
const REACH = 3;
const STEPS = { least: -40, most: 0 } as const;

/** The step that leaves the least error in a run. */
const bestStep = (errorWith: (step: number) => number, before: number | undefined): number => {
  const from = before === undefined ? STEPS.least : Math.max(STEPS.least, before - REACH);
  const surely = before === undefined ? STEPS.most : before + REACH;
  let best = { step: from, error: errorWith(from) };
  for (let step = from + 1; step <= STEPS.most; step += 1) {
    const error = errorWith(step);
    if (error < best.error) best = { step, error };
    else if (step > surely && error > best.error) break;
  }
  return best.step;
};

/** What a sample is beyond what was foretold: codes of so many bits, and the step of each run. */
export const residualCodes = (
  samples: Float32Array,
  weights: readonly number[],
  bits: number,
): { readonly codes: Int8Array; readonly steps: readonly number[] } => {
  const past = new Float64Array(samples.length + ORDER);
  const codes = new Int8Array(samples.length);
  const steps: number[] = [];
  for (let from = 0; from < samples.length; from += RUN) {
    const run = { past, weights, bits };
    const step = bestStep((s) => codeRun(samples, from, run, STEP_RATIO ** s).error, steps.at(-1));
    steps.push(step);
    codes.set(codeRun(samples, from, run, STEP_RATIO ** step).codes, from);
  }
  return { codes, steps };
};

/** The samples that codes stand for. */
export const samplesFromCodes = (
  codes: Int8Array,
  steps: readonly number[],
  weights: readonly number[],
): Float32Array => {
  const past = new Float64Array(codes.length + ORDER);
  for (let i = 0; i < codes.length; i += 1) {
    const step = STEP_RATIO ** (steps[Math.floor(i / RUN)] ?? 0);
    past[i + ORDER] = foretold(past, i, weights) + (codes[i] as number) * step;
  }
  return Float32Array.from(past.subarray(ORDER));
};
