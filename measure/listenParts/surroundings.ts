import { hertz, randomFrom } from '../../src/core/index.ts';
import { bandPass, filtered, highPass, lowPass, rmsOf } from '../../src/signal/index.ts';

/** Adds what sounds beside the tune at a level against it, in decibels of loudness (root mean square). */
export const mixedIn = (tune: Float32Array, other: Float32Array, level: number): Float32Array => {
  const gain = (rmsOf(tune) / Math.max(1e-9, rmsOf(other))) * 10 ** (level / 20);
  return tune.map((x, i) => x + gain * (other[i] ?? 0));
};

/** A disc at 78: the band of a horn, hiss and crackle `below` decibels under the music. */
export const asDisc = (samples: Float32Array, rate: number, below: number): Float32Array => {
  const r = hertz(rate);
  const chance = randomFrom(78);
  const noise = Float32Array.from(samples, () => {
    const click = chance.next() < 40 / rate ? 18 * chance.normal() : 0;
    return chance.normal() + click;
  });
  const band = [
    highPass(hertz(230), r),
    highPass(hertz(230), r),
    lowPass(hertz(4200), r),
    lowPass(hertz(4200), r),
  ];
  return mixedIn(filtered(samples, band), filtered(noise, band), -below);
};

/** Open strings bowed along without end. */
export const drones = (length: number, rate: number, midis: readonly number[]): Float32Array => {
  const out = new Float32Array(length);
  for (const [n, midi] of midis.entries()) {
    const f = 440 * 2 ** ((midi - 69) / 12);
    for (let h = 1; h <= 10; h += 1)
      for (let i = 0; i < length; i += 1) {
        const swell = 1 + 0.25 * Math.sin((2 * Math.PI * i) / (rate * (2.3 + n)));
        out[i] = (out[i] as number) + (swell * Math.sin((2 * Math.PI * f * h * i) / rate + h * n)) / h;
      }
  }
  return out;
};

/** Somebody talking: syllables of buzz and hiss through moving formants. No words. */
export const talk = (length: number, rate: number, seed: number): Float32Array => {
  const chance = randomFrom(seed);
  const out = new Float32Array(length);
  let at = 0;
  while (at < length) {
    const size = Math.round((0.09 + 0.16 * chance.next()) * rate);
    const gap = Math.round((chance.next() < 0.15 ? 0.4 : 0.03) * rate);
    const pitch = 105 + 45 * chance.next();
    const glide = 1 - 0.25 * chance.next();
    const voiced = chance.next() < 0.75;
    let phase = 0;
    const buzz = Float32Array.from({ length: size }, (_, i) => {
      phase += (pitch * glide ** (i / size)) / rate;
      const saw = 2 * (phase % 1) - 1;
      return Math.sin((Math.PI * i) / size) * (voiced ? saw : 0.4 * chance.normal());
    });
    const formants = [300 + 500 * chance.next(), 900 + 1400 * chance.next()];
    for (const formant of formants) {
      const said = filtered(buzz, [bandPass(hertz(formant), hertz(rate), 4)]);
      said.forEach((x, i) => {
        if (at + i < length) out[at + i] = (out[at + i] as number) + x;
      });
    }
    at += size + gap;
  }
  return out;
};
