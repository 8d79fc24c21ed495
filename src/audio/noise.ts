import { type Hertz, hertz, randomFrom } from '../core/index.ts';
import { bandPass, filtered, lowPass, rmsOf } from '../signal/index.ts';

/** Any number: the noise is the same each time. */
const SEED = 1782;
const SECONDS = 1;

/** White noise of a given seed, RMS about 0.58. */
export const whiteNoise = (seed: number, length: number): Float32Array => {
  const random = randomFrom(seed);
  return Float32Array.from({ length }, () => 2 * random.next() - 1);
};

/**
 * What a bow's hair sounds like before the string answers: a second of noise, RMS 1.
 *
 * Ours: centred on the violin's upper body resonance with little above 7 kHz.
 */
export const bowNoise = (rate: Hertz): Float32Array => {
  const filters = [bandPass(hertz(2600), rate, 0.7), lowPass(hertz(7000), rate)];
  const noise = filtered(whiteNoise(SEED, rate * SECONDS), filters);
  const level = rmsOf(noise);
  return noise.map((x) => x / level);
};
