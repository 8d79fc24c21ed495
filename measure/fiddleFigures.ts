import { hertz } from '../src/core/index.ts';
import type { TimedNote, Timeline } from '../src/perform/index.ts';
import {
  fftOf,
  filtered,
  hannWindow,
  highPass,
  levelOf,
  loudnessOf,
  type MonoSound,
  rmsOf,
} from '../src/signal/index.ts';

// Figures of a fiddle stem, taken from its samples alone; the timeline only says where to look.

const hertzOf = (midi: number): number => 440 * 2 ** ((midi - 69) / 12);
const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

/** The stem's amplitude about one moment: RMS over whole periods, of 5 ms at least. */
const amplitudeAt = (stem: MonoSound, time: number, midi: number): number => {
  const period = stem.rate / hertzOf(midi);
  const half = (Math.ceil((0.005 * stem.rate) / period) * period) / 2;
  return rmsOf(stem.samples, Math.round(time * stem.rate - half), Math.round(time * stem.rate + half));
};

/** When a lone note's amplitude reaches 90 % of what it is 30 to 60 ms after its start (a short note: at its middle), in ms. */
export const riseOf = (lone: MonoSound, note: TimedNote): number => {
  const middle = note.start + Math.min(0.045, note.length / 2);
  const wanted = 0.9 * amplitudeAt(lone, middle, note.midi);
  // Half a period's window looks ahead: what it finds early is given back.
  const period = 1 / hertzOf(note.midi);
  for (let t: number = note.start; t < middle; t += 0.0002) {
    const from = Math.round(t * lone.rate);
    if (rmsOf(lone.samples, from, from + Math.round(period * lone.rate)) >= wanted)
      return 1000 * (t - note.start + period / 2);
  }
  return 1000 * (middle - note.start);
};

/** How far a lone note's first sound (2 % of its peak) lies from where it should begin, in ms. */
export const onsetErrorOf = (lone: MonoSound, note: TimedNote): number => {
  const peak = lone.samples.reduce((m, x) => Math.max(m, Math.abs(x)), 0);
  const first = lone.samples.findIndex((x) => Math.abs(x) > 0.02 * peak);
  return 1000 * (first / lone.rate - note.start);
};

/** Amplitudes at frequencies of a Hann-windowed stretch. */
const amplitudesAt = (
  stem: MonoSound,
  from: number,
  to: number,
  frequencies: readonly number[],
): readonly number[] => {
  const first = Math.round(from * stem.rate);
  const length = Math.round((to - from) * stem.rate);
  const window = hannWindow(length);
  return frequencies.map((frequency) => {
    let re = 0;
    let im = 0;
    for (let i = 0; i < length; i += 1) {
      const x = (window[i] ?? 0) * (stem.samples[first + i] ?? 0);
      const angle = (2 * Math.PI * frequency * i) / stem.rate;
      re += x * Math.cos(angle);
      im += x * Math.sin(angle);
    }
    return (4 * Math.hypot(re, im)) / length;
  });
};

const HIGHEST_PARTIAL = 6000;

/**
 * While a flick sounds, how far is it above what is left of the note that it interrupts, in dB?
 *
 * Energy at the flick's partials against energy at the same partials of the interrupted note, over the flick's whole
 * length through a Hann window. Partials of the one within two and a quarter window bins of any partial of the other are left out:
 * the window can't part them.
 */
export const flickOverNote = (stem: MonoSound, flick: TimedNote, interrupted: number): number => {
  const apart = 2.25 / flick.length;
  const [own, other] = [hertzOf(flick.midi), hertzOf(interrupted)];
  const distance = (frequency: number, base: number): number =>
    Math.abs(frequency - base * Math.max(1, Math.round(frequency / base)));
  const partials = Array.from(
    { length: Math.floor(HIGHEST_PARTIAL / Math.max(own, other)) },
    (_, k) => k + 1,
  ).filter((k) => distance(k * own, other) >= apart && distance(k * other, own) >= apart);
  const energy = (base: number): number =>
    amplitudesAt(stem, flick.start, flick.start + flick.length, partials.map((k) => k * base)).reduce((sum, a) => sum + a * a, 0); // biome-ignore format: one thought
  return 10 * Math.log10(energy(own) / energy(other));
};

/** How far does the level fall between two strokes, in dB below the mean of their middles? 5 ms at a time. */
export const dipBetween = (stem: MonoSound, first: TimedNote, second: TimedNote): number => {
  const middle = (n: TimedNote): number => amplitudeAt(stem, n.start + Math.min(n.length / 2, 0.04), n.midi);
  let least = Number.POSITIVE_INFINITY;
  for (let t: number = second.start - 0.012; t < second.start + 0.008; t += 0.0005)
    least = Math.min(least, amplitudeAt(stem, t, second.midi));
  return levelOf((middle(first) + middle(second)) / 2 / least);
};

/**
 * A steady note's pitch against its key, in cents: how far the phases of its first three partials move between two
 * Hann-windowed frames, each partial as much as it is strong.
 */
export const pitchErrorOf = (stem: MonoSound, note: TimedNote): number => {
  const size = 8192;
  const hop = 256;
  const fft = fftOf(size);
  const window = hannWindow(size);
  const from = Math.round((note.start + 0.05) * stem.rate);
  const frame = (at: number) => {
    const real = Float64Array.from(window, (w, i) => w * (stem.samples[at + i] ?? 0));
    const imaginary = new Float64Array(size);
    fft.forward(real, imaginary);
    return { real, imaginary };
  };
  const [a, b] = [frame(from), frame(from + hop)];
  const errors = [1, 2, 3].map((k) => {
    const wanted = k * hertzOf(note.midi);
    const bin = Math.round((wanted * size) / stem.rate);
    const phase = ({ real, imaginary }: typeof a): number => Math.atan2(imaginary[bin] ?? 0, real[bin] ?? 0);
    const expected = (2 * Math.PI * wanted * hop) / stem.rate;
    const moved = phase(b) - phase(a) - expected;
    const off = moved - 2 * Math.PI * Math.round(moved / (2 * Math.PI));
    const strength = Math.hypot(a.real[bin] ?? 0, a.imaginary[bin] ?? 0);
    return { cents: 1200 * Math.log2(1 + off / expected), strength };
  });
  const total = errors.reduce((sum, e) => sum + e.strength, 0);
  return errors.reduce((sum, e) => sum + e.cents * e.strength, 0) / total;
};

/** BS.1770 loudness of one note, LUFS. */
export const noteLoudness = (stem: MonoSound, note: TimedNote): number =>
  loudnessOf({
    rate: stem.rate,
    samples: stem.samples.slice(
      Math.round(note.start * stem.rate),
      Math.round((note.start + note.length) * stem.rate),
    ),
  });

/** How much of a note lies above 3 kHz, against all of it, dB. */
export const brightnessIn = (stem: MonoSound, note: TimedNote): number => {
  const above = highPass(hertz(3000), stem.rate);
  const from = Math.round((note.start + 0.1) * stem.rate);
  const stretch = stem.samples.slice(from, Math.round((note.start + note.length - 0.05) * stem.rate));
  return levelOf(rmsOf(filtered(stretch, [above, above])) / rmsOf(stretch));
};

/** How much a held note's level wavers after its first second, in dB from softest to loudest 60 ms. */
export const waverOf = (stem: MonoSound, note: TimedNote): number => {
  const levels: number[] = [];
  for (let t: number = note.start + 1; t < note.start + note.length - 0.15; t += 0.03)
    levels.push(levelOf(rmsOf(stem.samples, Math.round(t * stem.rate), Math.round((t + 0.06) * stem.rate))));
  return Math.max(...levels) - Math.min(...levels);
};

/**
 * The sharpest corner near the notes' starts and ends against the sharpest one inside them, as a factor: well above 1
 * means clicks. A corner is the third difference of the samples, which a band-limited tone keeps small.
 */
export const cornersAtBoundaries = (stem: MonoSound, { notes }: Timeline): number => {
  const x = stem.samples;
  const sharpest = (from: number, to: number): number => {
    let most = 0;
    for (let i = Math.max(3, Math.round(from * stem.rate)); i < to * stem.rate; i += 1)
      most = Math.max(
        most,
        Math.abs((x[i] ?? 0) - 3 * (x[i - 1] ?? 0) + 3 * (x[i - 2] ?? 0) - (x[i - 3] ?? 0)),
      );
    return most;
  };
  const inside = notes.map((n) => sharpest(n.start + n.length * 0.35, n.start + n.length * 0.65));
  const edges = notes.map((n) => sharpest(n.start - 0.004, n.start + 0.004));
  return Math.max(...edges) / Math.max(...inside);
};

/** Mean of some figures. */
export const meanOf = mean;
