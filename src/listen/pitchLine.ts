import { LISTENING_RATE } from './data.ts';

/** Samples from one reading to the next: 2.9 ms. */
const LINE_HOP = 32;
/** Samples that are compared with themselves: 20 ms. */
const COMPARED = 220;
/** Shortest and longest period, in samples: 1,575 to 176 Hz. */
const SHORTEST = 7;
const LONGEST = 62;
/** Dips that are kept in a frame. */
const MOST_DIPS = 4;
/** Thresholds of the difference, each with its prior: a beta distribution with mean 0.15. Source: Mauch and Dixon (below). */
const THRESHOLDS = 20;
const BETA = [2, 11.33] as const;
/** Price of a jump, for each semitone, and of going to or from no pitch, in logarithms of probability. Ours. */
const JUMP = 0.25;
const VOICING = 2;
/** Probability that a frame without a clear dip has no pitch. */
const UNVOICED = 0.02;

/** A quick line of pitch: one value a reading, as a MIDI number, 0 where there is none. */
export interface PitchLine {
  readonly midi: Float32Array;
  /** Readings a second. */
  readonly rate: number;
}

const priors = (() => {
  const [a, b] = BETA;
  const density = Array.from({ length: THRESHOLDS }, (_, i) => {
    const x = (i + 0.5) / THRESHOLDS;
    return x ** (a - 1) * (1 - x) ** (b - 1);
  });
  const total = density.reduce((s, d) => s + d, 0);
  return density.map((d) => d / total);
})();

/** Differences of the sound with itself at each lag, divided by their running mean: low where it repeats itself. */
const differences = (samples: Float32Array, centre: number, into: Float32Array): void => {
  const from = centre - ((COMPARED + LONGEST) >> 1);
  let running = 0;
  for (let lag = 1; lag <= LONGEST + 1; lag += 1) {
    let sum = 0;
    for (let i = 0; i < COMPARED; i += 1) {
      const d = (samples[from + i] as number) - (samples[from + i + lag] as number);
      sum += d * d;
    }
    running += sum;
    into[lag] = running > 0 ? (sum * lag) / running : 1;
  }
};

interface Dip {
  readonly midi: number;
  readonly probability: number;
}

/** Where the dip's lowest point lies between the lags. */
const vertex = (d: Float32Array, lag: number): number => {
  const [l, m, r] = [d[lag - 1] as number, d[lag] as number, d[lag + 1] as number];
  const curve = l - 2 * m + r;
  return lag + (curve > 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (l - r)) / curve)) : 0);
};

/** The dips of a frame, each with the chance that it is the first below a threshold drawn from the prior. */
const dipsOf = (d: Float32Array): readonly Dip[] => {
  const lags: number[] = [];
  for (let lag = SHORTEST; lag <= LONGEST; lag += 1)
    if ((d[lag] as number) < (d[lag - 1] as number) && (d[lag] as number) <= (d[lag + 1] as number))
      lags.push(lag);
  const chances = new Map<number, number>();
  for (let i = 0; i < THRESHOLDS; i += 1) {
    const first = lags.find((lag) => (d[lag] as number) < (i + 0.5) / THRESHOLDS);
    if (first !== undefined) chances.set(first, (chances.get(first) ?? 0) + (priors[i] as number));
  }
  return [...chances]
    .sort((a, b) => b[1] - a[1])
    .slice(0, MOST_DIPS)
    .map(([lag, probability]) => ({
      midi: 69 + 12 * Math.log2(LISTENING_RATE / vertex(d, lag) / 440),
      probability,
    }));
};

/** One frame on the path: its dips, the score of each so far, and where each came from (−1: no pitch). */
interface Column {
  readonly dips: readonly Dip[];
  readonly scores: Float64Array;
  readonly from: Int8Array;
}

const nextColumn = (before: Column, dips: readonly Dip[]): Column => {
  const scores = new Float64Array(dips.length + 1);
  const from = new Int8Array(dips.length + 1);
  for (let s = 0; s <= dips.length; s += 1) {
    const here = dips[s];
    let [best, at] = [-Infinity, 0];
    for (let q = 0; q <= before.dips.length; q += 1) {
      const there = before.dips[q];
      const jump =
        here === undefined || there === undefined
          ? here === there
            ? 0
            : VOICING
          : JUMP * Math.min(12, Math.abs(here.midi - there.midi));
      const score = (before.scores[q] as number) - jump;
      if (score > best) [best, at] = [score, q];
    }
    scores[s] = best + Math.log(here === undefined ? UNVOICED : here.probability + 1e-4);
    from[s] = at;
  }
  return { dips, scores, from };
};

/**
 * The pitch line of a sound of one voice, quick enough for a cut: probabilistic YIN with a short window.
 * @param samples - mono, at `LISTENING_RATE`
 * @see Source: M. Mauch, S. Dixon, "pYIN: a fundamental frequency estimator using probabilistic threshold distributions",
 * ICASSP 2014; window, hop and path are ours
 */
export const pitchLineOf = (samples: Float32Array): PitchLine => {
  const count = Math.floor(samples.length / LINE_HOP) + 1;
  const reach = (COMPARED + LONGEST) >> 1;
  const d = new Float32Array(LONGEST + 2);
  const columns: Column[] = [];
  let before: Column = { dips: [], scores: new Float64Array(1), from: new Int8Array(1) };
  for (let t = 0; t < count; t += 1) {
    const centre = t * LINE_HOP;
    const inside = centre > reach && centre + reach + 2 < samples.length;
    if (inside) differences(samples, centre, d);
    before = nextColumn(before, inside ? dipsOf(d) : []);
    columns.push(before);
  }
  const midi = new Float32Array(count);
  let state = before.scores.indexOf(Math.max(...before.scores));
  for (let t = count - 1; t >= 0; t -= 1) {
    const column = columns[t] as Column;
    midi[t] = column.dips[state]?.midi ?? 0;
    state = column.from[state] as number;
  }
  return { midi, rate: LISTENING_RATE / LINE_HOP };
};
