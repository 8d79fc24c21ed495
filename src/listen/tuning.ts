import { type Cents, cents } from '../core/index.ts';
import { LISTENING_RATE, PITCH_FRAME } from './data.ts';
import { frameCount, spectraOf } from './spectra.ts';

/** How far a recording's semitones lie from A = 440 Hz. */
export interface Tuning {
  /** −50…50, above 0: sharp. A whole semitone more can't be told from the sound alone. */
  readonly cents: Cents;
  /** 0…1: how closely the notes agree on it. */
  readonly confidence: number;
}

/** Every so many frames are looked at. */
const EVERY = 6;
/** Partials between these are looked at, hertz: above, harmonics no longer lie on semitones. */
const LOWEST = 240;
const HIGHEST = 2_000;
/** Only partials above this share of the frame's strongest. */
const LEAST = 0.1;

/** The circle of a hundred cents: values added up as directions. */
interface Circle {
  readonly add: (value: number, weight: number) => void;
  /** Mean direction in cents, −50…50, and how much of one mind the values are, 0…1. */
  readonly mean: () => { readonly value: number; readonly agreement: number };
}

const circle = (): Circle => {
  let [x, y, total] = [0, 0, 0];
  return {
    add: (value, weight) => {
      const angle = (2 * Math.PI * value) / 100;
      x += weight * Math.cos(angle);
      y += weight * Math.sin(angle);
      total += weight;
    },
    mean: () => ({
      value: (Math.atan2(y, x) * 100) / (2 * Math.PI),
      agreement: total > 0 ? Math.hypot(x, y) / total : 0,
    }),
  };
};

const centsOf = (hertz: number): number => 1200 * Math.log2(hertz / 440);

/** Adds a frame's partials to the circle, each where the parabola through its logarithms has its top. */
const addPartials = (magnitudes: Float32Array, to: Circle): void => {
  const binOf = (f: number): number => Math.round((f * PITCH_FRAME.points) / LISTENING_RATE);
  const [low, high] = [binOf(LOWEST), binOf(HIGHEST)];
  let most = 0;
  for (let k = low; k < high; k += 1) most = Math.max(most, magnitudes[k] as number);
  for (let k = low; k < high; k += 1) {
    const m = magnitudes[k] as number;
    const [before, after] = [magnitudes[k - 1] as number, magnitudes[k + 1] as number];
    if (m < LEAST * most || m <= before || m < after || before <= 0 || after <= 0) continue;
    const [l, c, r] = [Math.log(before), Math.log(m), Math.log(after)];
    const curve = l - 2 * c + r;
    const place = k + (curve < 0 ? (0.5 * (l - r)) / curve : 0);
    to.add(centsOf((place * LISTENING_RATE) / PITCH_FRAME.points), Math.sqrt(m));
  }
};

/**
 * A first reading of the tuning, from the partials of the whole recording.
 * @param samples - mono, at `LISTENING_RATE`
 */
export const roughTuning = (samples: Float32Array): number => {
  const shape = { ...PITCH_FRAME, hop: PITCH_FRAME.hop * EVERY };
  const spectra = spectraOf(samples, shape);
  const bins = PITCH_FRAME.points / 2;
  const [a, b] = [new Float32Array(bins), new Float32Array(bins)];
  const found = circle();
  const frames = frameCount(samples, shape.hop);
  for (let t = 0; t + 1 < frames; t += 2) {
    spectra(t, a, b);
    addPartials(a, found);
    addPartials(b, found);
  }
  return found.mean().value;
};

/** A note counts for at most so long, seconds: long notes are few and may be out by themselves. */
const LONGEST_COUNTED = 0.3;
/** Notes that lie farther off the mean are misheard, or meant so, and don't tell the tuning, cents. Ours. */
const NEAR = 22;
/** Notes from which the tuning is sure of itself. */
const ENOUGH_NOTES = 16;

/**
 * The tuning as the notes have it.
 * @param notes - pitch as a fractional MIDI number at A = 440 Hz, and length in seconds
 * @returns null without notes
 */
export const tuningOf = (
  notes: readonly { readonly midi: number; readonly length: number }[],
): Tuning | null => {
  if (notes.length === 0) return null;
  const found = circle();
  for (const { midi, length } of notes) found.add(100 * midi, Math.min(length, LONGEST_COUNTED));
  const { value: about, agreement } = found.mean();
  const near = circle();
  // Were the notes of two minds, there could be none about their mean: it stands by itself then.
  near.add(about, Number.MIN_VALUE);
  for (const { midi, length } of notes) {
    const off = 100 * midi - about;
    if (Math.abs(off - 100 * Math.round(off / 100)) < NEAR)
      near.add(100 * midi, Math.min(length, LONGEST_COUNTED));
  }
  const { value } = near.mean();
  return { cents: cents(value), confidence: agreement * Math.min(1, notes.length / ENOUGH_NOTES) };
};

/**
 * Speeds at which records turn. Source: 78.26 and 77.92 rpm are the nominal standards for mains of 60 and 50 Hz.
 */
const NOMINAL_SPEED = 78.26;

/** The speed at which a disc, transferred at the nominal 78.26 turns a minute, would sound at A = 440 Hz. */
export const turntableSpeedOf = (offset: number): number => NOMINAL_SPEED * 2 ** (-offset / 1200);
