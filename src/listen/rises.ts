import { LISTENING_RATE, LOWEST_MIDI, ONSET_FRAME, SEMITONES } from './data.ts';
import { frameCount, spectraOf } from './spectra.ts';
import { steadySound } from './steadySound.ts';

/** Harmonics whose loudness is followed. */
const HARMONICS = 6;
const HIGHEST = 5_200;
/** Loudness is counted in logarithm above this share of the loudest. */
const FLOOR = 0.006;
/** So much of what sounds all the time counts with the floor. Ours: of 0, 0.3, 0.5 and 1, in the tuning half. */
const STEADY_IN_FLOOR = 0.5;
/** Frames on each side among which the softest before and the loudest after are looked for. */
const REACH = 4;

/** Frames before and after between which steepness is told. */
const SLOPE = 2;

const BINS = ONSET_FRAME.points / 2;

interface Places {
  readonly bin: Uint16Array;
  readonly weight: Float32Array;
  readonly from: Uint16Array;
}

const placesAt = (offsetCents: number): Places => {
  const [bins, weights, from]: [number[], number[], number[]] = [[], [], []];
  for (let s = 0; s < SEMITONES; s += 1) {
    from.push(bins.length);
    const f = 440 * 2 ** ((LOWEST_MIDI + s - 69 + offsetCents / 100) / 12);
    const heard = Array.from({ length: HARMONICS }, (_, h) => (h + 1) * f).filter((x) => x < HIGHEST);
    for (const x of heard) {
      bins.push(Math.round((x * ONSET_FRAME.points) / LISTENING_RATE));
      weights.push(1 / heard.length);
    }
  }
  from.push(bins.length);
  return { bin: Uint16Array.from(bins), weight: Float32Array.from(weights), from: Uint16Array.from(from) };
};

/** The loudest of a bin and its neighbours, so that vibrato raises nothing. Source of the idea: S. Böck, G. Widmer, DAFx 2013. */
const loudestBeside = (bins: Float32Array, k: number): number =>
  Math.max(bins[k - 1] as number, bins[k] as number, bins[k + 1] as number);

/**
 * Loudness as a logarithm, above a floor that is higher where something sounds all the time: a note's beginning shows over a
 * drone, the drone's own swelling does not.
 * @param steady - power of what sounds all the time
 */
const logarithmic = (magnitudes: Float32Array, steady: Float32Array, floor: number): void => {
  for (let k = 0; k < BINS; k += 1) {
    const power = steady[k] as number;
    const left = Math.sqrt(Math.max(0, (magnitudes[k] as number) ** 2 - power));
    magnitudes[k] = Math.log(1 + left / (floor + STEADY_IN_FLOOR * Math.sqrt(power)));
  }
};

/** Logarithmic loudness of each semitone's harmonics, frame by frame. */
const levelsOf = (samples: Float32Array, offsetCents: number, loudest: number): Float32Array => {
  const frames = frameCount(samples, ONSET_FRAME.hop);
  const spectra = spectraOf(samples, ONSET_FRAME);
  const steady = steadySound(samples, ONSET_FRAME);
  const { bin, weight, from } = placesAt(offsetCents);
  const levels = new Float32Array(frames * SEMITONES);
  const pair = [new Float32Array(BINS), new Float32Array(BINS)] as const;
  for (let t = 0; t < frames; t += 2) {
    spectra(t, pair[0], pair[1]);
    for (const [i, bins] of pair.entries()) {
      if (t + i >= frames) break;
      logarithmic(bins, steady(t + i), FLOOR * loudest);
      for (let s = 0; s < SEMITONES; s += 1) {
        let sum = 0;
        for (let j = from[s] as number; j < (from[s + 1] as number); j += 1)
          sum += (weight[j] as number) * loudestBeside(bins, bin[j] as number);
        levels[(t + i) * SEMITONES + s] = sum;
      }
    }
  }
  return levels;
};

/** Growth about a frame: the level a little after less that a little before. */
const growthAt = (levels: Float32Array, t: number, s: number, frames: number): number =>
  (levels[Math.min(frames - 1, t + SLOPE) * SEMITONES + s] as number) -
  (levels[Math.max(0, t - SLOPE) * SEMITONES + s] as number);

/** Whether growth is nowhere steeper within reach. */
const isSteepest = (levels: Float32Array, t: number, s: number, frames: number): boolean => {
  const here = growthAt(levels, t, s, frames);
  if (here <= 0) return false;
  for (let d = 1; d <= REACH; d += 1)
    if (growthAt(levels, t - d, s, frames) >= here || growthAt(levels, t + d, s, frames) > here) return false;
  return true;
};

/** Where semitones begin to sound. Both are frames × SEMITONES, in logarithm of loudness, 0 where nothing begins. */
export interface Rises {
  /** How much a semitone grows. */
  readonly growth: Float32Array;
  /** How far it had sunk just before, against both what it was and what it becomes: a bow that turns. */
  readonly dips: Float32Array;
}

/** Frames before a new stroke in which the old one still sounds full. */
const OLD_STROKE = 12;

/** The loudest that a semitone was before a new stroke at a frame. */
const levelBefore = (levels: Float32Array, t: number, s: number): number => {
  let most = 0;
  for (let d = 1; d <= OLD_STROKE; d += 1)
    most = Math.max(most, levels[Math.max(0, t - d) * SEMITONES + s] as number);
  return most;
};

/**
 * How much does each semitone grow, and when?
 *
 * The loudest of its harmonics just after against the softest just before, in logarithm, told at the frame where they
 * grow most steeply. A new stroke on the pitch that sounds already shows as well as a new pitch; vibrato and a click of
 * the disc, being in no harmonic in particular, count for little. A bow that turns lets its pitch sink for a moment; a
 * guitar's stroke on top of a held note doesn't: the dips tell them apart.
 * @param loudest - amplitude of loud moments
 */
export const risesOf = (samples: Float32Array, offsetCents: number, loudest: number): Rises => {
  const levels = levelsOf(samples, offsetCents, loudest);
  const frames = levels.length / SEMITONES;
  const rises = { growth: new Float32Array(levels.length), dips: new Float32Array(levels.length) };
  for (let t = 0; t < frames; t += 1)
    for (let s = 0; s < SEMITONES; s += 1) {
      if (!isSteepest(levels, t, s, frames)) continue;
      let [low, high] = [Infinity, 0];
      for (let d = 0; d <= REACH; d += 1) {
        low = Math.min(low, levels[Math.max(0, t - d) * SEMITONES + s] as number);
        high = Math.max(high, levels[Math.min(frames - 1, t + d) * SEMITONES + s] as number);
      }
      const k = t * SEMITONES + s;
      rises.growth[k] = high - low;
      rises.dips[k] = Math.max(0, Math.min(high, levelBefore(levels, t, s)) - low);
    }
  return rises;
};
