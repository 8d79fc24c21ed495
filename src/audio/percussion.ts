import type { Hertz } from '../core/index.ts';
import { CLICK, DRUM } from '../perform/index.ts';
import { whiteNoise } from './noise.ts';
import type { Stretch } from './stretch.ts';

/** A struck body: a few partials that die away, and the noise of the blow. Ours: tuned by ear and spectrum. */
interface Struck {
  /** Hertz, strength, seconds to 1/e. */
  readonly partials: readonly (readonly [number, number, number])[];
  /** Strength, seconds to 1/e, and how much each noise sample keeps of the one before (0 bright … 1 dull). */
  readonly blow: readonly [number, number, number];
  /** A struck skin starts this much sharp, as a factor, and settles within 30 ms. */
  readonly sharp: number;
  readonly seconds: number;
}

/**
 * The click: a block of hard wood, the accented one a fourth higher. The drum: a hand drum's skin struck low and high,
 * and a tap on its rim; partials of a round membrane.
 * @see Source of the membrane's ratios 1, 1.59, 2.14, 2.30: zeros of the Bessel functions J0, J1, J2
 */
const SOUNDS: Readonly<Record<number, Struck>> = {
  [CLICK.accented]: {
    partials: [[1560, 0.5, 0.022], [2480, 0.28, 0.012], [4120, 0.12, 0.006]], // biome-ignore format: a table
    blow: [0.25, 0.0015, 0],
    sharp: 1,
    seconds: 0.15,
  },
  [CLICK.plain]: {
    partials: [[1170, 0.36, 0.02], [1860, 0.2, 0.011], [3090, 0.08, 0.006]], // biome-ignore format: a table
    blow: [0.16, 0.0015, 0],
    sharp: 1,
    seconds: 0.15,
  },
  [DRUM.low]: {
    partials: [[86, 0.62, 0.16], [137, 0.24, 0.09], [184, 0.12, 0.06], [198, 0.08, 0.05]], // biome-ignore format: a table
    blow: [0.1, 0.006, 0.7],
    sharp: 1.12,
    seconds: 0.7,
  },
  [DRUM.high]: {
    partials: [[168, 0.4, 0.09], [267, 0.22, 0.06], [360, 0.12, 0.04], [386, 0.08, 0.03]], // biome-ignore format: a table
    blow: [0.14, 0.008, 0.6],
    sharp: 1.08,
    seconds: 0.45,
  },
  [DRUM.tap]: {
    partials: [[520, 0.16, 0.02], [910, 0.12, 0.014], [1480, 0.08, 0.01]], // biome-ignore format: a table
    blow: [0.2, 0.004, 0.4],
    sharp: 1,
    seconds: 0.15,
  },
};
/** No hit sounds longer, seconds. */
export const LONGEST_HIT = Math.max(...Object.values(SOUNDS).map((sound) => sound.seconds));
/** What an unknown key number sounds like. */
const FALLBACK = CLICK.plain;
const SETTLING = 0.012;
const NOISE_SEED = 4711;

const struck = (sound: Struck, rate: Hertz): Float32Array => {
  const frames = Math.round(sound.seconds * rate);
  const out = new Float32Array(frames);
  for (const [frequency, strength, decay] of sound.partials) {
    let phase = 0;
    for (let i = 0; i < frames; i += 1) {
      out[i] = (out[i] as number) + strength * Math.sin(phase) * Math.exp(-i / (decay * rate));
      const sharp = 1 + (sound.sharp - 1) * Math.exp(-i / (SETTLING * rate));
      phase += (2 * Math.PI * frequency * sharp) / rate;
    }
  }
  const [strength, decay, dullness] = sound.blow;
  const noise = whiteNoise(NOISE_SEED, frames);
  let dull = 0;
  for (let i = 0; i < frames; i += 1) {
    dull = dullness * dull + (1 - dullness) * (noise[i] as number);
    out[i] = (out[i] as number) + strength * dull * Math.exp(-i / (decay * rate));
  }
  // The last 10 ms fade to nothing.
  const fade = Math.round(0.01 * rate);
  for (let i = 0; i < fade; i += 1) {
    const at = frames - 1 - i;
    out[at] = (out[at] as number) * (i / fade);
  }
  return out;
};

const remembered = new Map<string, Float32Array>();

/** The sound of a key number of the click or the drum, at full level (1). */
export const percussionSound = (midi: number, rate: Hertz): Float32Array => {
  const key = SOUNDS[midi] === undefined ? FALLBACK : midi;
  const known = remembered.get(`${key} ${rate}`);
  if (known !== undefined) return known;
  const sound = struck(SOUNDS[key] as Struck, rate);
  remembered.set(`${key} ${rate}`, sound);
  return sound;
};

/** Adds a hit to a stretch of a stem. */
export const playHit = (
  { samples: stem, from }: Stretch,
  hit: { readonly start: number; readonly midi: number; readonly level: number },
  rate: Hertz,
): void => {
  const sound = percussionSound(hit.midi, rate);
  const start = Math.round(hit.start * rate) - from;
  const frames = Math.min(sound.length, stem.length - start);
  for (let i = 0; i < frames; i += 1)
    stem[start + i] = (stem[start + i] as number) + hit.level * (sound[i] as number);
};
