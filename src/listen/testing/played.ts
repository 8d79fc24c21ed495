import { hertz } from '../../core/index.ts';
import type { MonoSound } from '../../signal/index.ts';

/** A note to be played: MIDI number (fractional for off pitch), start and length in seconds. */
export interface PlayedNote {
  readonly midi: number;
  readonly start: number;
  readonly length: number;
}

/** Samples a second of test recordings: that of listening, so that nothing is lost on resampling. */
const RATE = hertz(11_025);

/** Notes of eight harmonics with a short attack and release. */
export const played = (notes: readonly PlayedNote[]): MonoSound => {
  const end = Math.max(0, ...notes.map((n) => n.start + n.length));
  const samples = new Float32Array(Math.ceil((end + 0.4) * RATE));
  for (const { midi, start, length } of notes) {
    const step = (2 * Math.PI * 440 * 2 ** ((midi - 69) / 12)) / RATE;
    const frames = Math.floor(length * RATE);
    const from = Math.round(start * RATE);
    for (let i = 0; i < frames; i += 1) {
      const gate = Math.min(1, i / (0.012 * RATE), (frames - i) / (0.015 * RATE));
      let x = 0;
      for (let h = 1; h <= 8; h += 1) x += Math.sin(step * h * i) / h;
      samples[from + i] = (samples[from + i] as number) + 0.2 * gate * x;
    }
  }
  return { rate: RATE, samples };
};
