import { type Hertz, type Random, randomFrom } from '../core/index.ts';
import type { BowedNote } from './bowing.ts';
import { ENTRIES, EXITS, MOST_TIRING, OPENING, TIRING } from './bowShapes.ts';
import type { Stretch } from './stretch.ts';
import type { Tones } from './tone.ts';

/** Level of playing that leaves the reference loudness as it is. */
const ORDINARY_LEVEL = 0.7;
/** One-pole split between the partials that speak at once and those that follow, hertz. Ours. */
const COLOUR_SPLIT = 1800;
/** How much more of the upper partials a level of 1 more brings. Ours. */
const BRIGHTER_BY_LEVEL = 1.2;
/** Bow noise dies away at this rate, seconds to 1/e. Ours. */
const BITE_DECAY = 0.012;
/** A fiddle tone at −20 LUFS has about this RMS; bow noise is measured against it. */
const TONE_RMS = 0.09;

/** What differs from note to note when nobody plays like a machine. */
interface Human {
  /** Where in the tone the note begins, samples. */
  readonly from: number;
  /** Factor on the level. */
  readonly gain: number;
  /** Speed of reading: 1 is exact pitch. */
  readonly speed: number;
  /** Vibrato depth, cents; 0 for none. */
  readonly vibrato: number;
  /** Pitch wanders within the note: cents, and where in its slow wave it begins (radians). */
  readonly wander: number;
  readonly phase: number;
}

const EXACT: Human = { from: 0, gain: 1, speed: 1, vibrato: 0, wander: 0, phase: 0 };
/** Ours: what can be heard as life and not as fault. */
const LEVEL_SPREAD_DB = 0.6;
const PITCH_SPREAD_CENTS = 2;
const WANDER_CENTS = 1.5;
const WANDER_HERTZ = 3.1;
const VIBRATO_FROM_SECONDS = 0.6;
const VIBRATO_CENTS = 11;
const VIBRATO_HERTZ = 5.4;
const VIBRATO_DELAY = 0.25;

const humanOf = (random: Random, rate: Hertz): Human => ({
  from: Math.floor(random.next() * 0.3 * rate),
  gain: 10 ** ((LEVEL_SPREAD_DB * Math.max(-2, Math.min(2, random.normal()))) / 20),
  speed: 2 ** ((PITCH_SPREAD_CENTS * Math.max(-2, Math.min(2, random.normal()))) / 1200),
  vibrato: 0,
  wander: WANDER_CENTS,
  phase: 2 * Math.PI * random.next(),
});

const isLong = ({ note }: BowedNote): boolean => note.beside !== true && note.length >= VIBRATO_FROM_SECONDS;

/** Strength of the note at each of its samples: entry, tiring, exit. */
const strengthOf = (bowed: BowedNote, rate: Hertz, frames: number): Float32Array => {
  const { note, entry, exit, sinceStroke } = bowed;
  const out = new Float32Array(frames);
  const tire = 10 ** (-TIRING / 20 / rate);
  const least = 10 ** (-MOST_TIRING / 20);
  let fresh = Math.max(least, 10 ** ((-TIRING * sinceStroke) / 20));
  for (let i = 0; i < frames; i += 1) {
    out[i] = fresh;
    if (fresh > least) fresh *= tire;
  }
  const rise = Math.max(1, ENTRIES[entry].rise * rate);
  for (let i = 0; i < rise && i < frames; i += 1)
    out[i] = (out[i] as number) * Math.sin((Math.PI / 2) * (i / rise));
  const { before, floor, after } = EXITS[exit];
  const end = Math.round((note.start + note.length) * rate) - Math.round(note.start * rate);
  // A note shorter than its own fall falls within its second half.
  const fall = Math.max(1, Math.round(Math.min(before, note.length / 2) * rate));
  for (let i = Math.max(0, end - fall); i < end; i += 1) {
    const share = (i - end + fall) / fall;
    out[i] = (out[i] as number) * (1 + (floor - 1) * (0.5 - 0.5 * Math.cos(Math.PI * share)));
  }
  const last = Math.max(1, after * rate);
  for (let i = end; i < frames; i += 1) {
    const share = Math.min(1, (i - end) / last);
    out[i] = (out[i] as number) * floor * Math.cos((Math.PI / 2) * share);
  }
  return out;
};

/** The pitch is worked out anew after so many samples: a third of a millisecond. */
const BEND_BLOCK = 16;

/** Speed of reading at each block of a note: glide, vibrato and wander together. */
const bendsOf = (bowed: BowedNote, human: Human, rate: Hertz, frames: number): Float64Array => {
  const { glideFrom = 0, glideTime = 0 } = bowed.note;
  const glideFrames = glideFrom === 0 ? 0 : Math.max(1, glideTime * rate);
  return Float64Array.from({ length: Math.ceil(frames / BEND_BLOCK) }, (_, block) => {
    const i = block * BEND_BLOCK;
    let cents = human.wander * Math.sin(human.phase + (2 * Math.PI * WANDER_HERTZ * i) / rate);
    if (i < glideFrames) cents += 100 * glideFrom * (0.5 + 0.5 * Math.cos((Math.PI * i) / glideFrames));
    const wave = i / rate - VIBRATO_DELAY;
    if (human.vibrato > 0 && wave > 0)
      cents += human.vibrato * Math.min(1, 3 * wave) * Math.sin(2 * Math.PI * VIBRATO_HERTZ * wave);
    return human.speed * 2 ** (cents / 1200);
  });
};

/**
 * The tone read at a speed that changes, by a cubic through four samples: it has little near half the rate.
 *
 * `tone` reaches far enough for all of it.
 */
const bent = (tone: Float32Array, from: number, speeds: Float64Array, frames: number): Float32Array => {
  const out = new Float32Array(frames);
  let point = from + 1;
  for (let block = 0; block < speeds.length; block += 1) {
    const speed = speeds[block] as number;
    const end = Math.min(frames, (block + 1) * BEND_BLOCK);
    for (let n = block * BEND_BLOCK; n < end; n += 1) {
      const i = point | 0;
      const t = point - i;
      const a = tone[i - 1] as number;
      const b = tone[i] as number;
      const c = tone[i + 1] as number;
      const d = tone[i + 2] as number;
      out[n] = b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));
      point += speed;
    }
  }
  return out;
};

const isBent = (bowed: BowedNote, human: Human): boolean =>
  (bowed.note.glideFrom ?? 0) !== 0 || human.speed !== 1 || human.vibrato > 0;

/** What playing a line needs besides its notes. */
export interface BowedPlaying {
  readonly tones: Tones;
  readonly rate: Hertz;
  readonly noise: Float32Array;
  /** Seed of the small differences between notes; null plays every note exactly alike. */
  readonly variation: number | null;
  /** Vibrato on long notes. */
  readonly vibrato: boolean;
}

/** The note's own tone from where it begins, bent where it has to be. */
const soundOf = (
  bowed: BowedNote,
  human: Human,
  { rate, tones }: BowedPlaying,
  frames: number,
): Float32Array => {
  const { midi } = bowed.note;
  if (!isBent(bowed, human))
    return tones('fiddle', midi, human.from + frames).slice(human.from, human.from + frames);
  const speeds = bendsOf(bowed, human, rate, frames);
  const reach = speeds.reduce((sum, speed) => sum + speed * BEND_BLOCK, human.from + 4);
  return bent(tones('fiddle', midi, Math.ceil(reach)), human.from, speeds, frames);
};

/** A stroke's upper partials come after the lower ones, and a stronger stroke has more of them throughout. */
const colourStroke = (sound: Float32Array, colour: number, level: number, rate: Hertz): void => {
  const usual = 1 + BRIGHTER_BY_LEVEL * (level - ORDINARY_LEVEL);
  const pole = Math.exp((-2 * Math.PI * COLOUR_SPLIT) / rate);
  const opening = colour >= 1 ? 0 : OPENING * rate;
  let low = 0;
  for (let i = 0; i < sound.length; i += 1) {
    const x = sound[i] as number;
    low += (1 - pole) * (x - low);
    const share = i < opening ? colour + (1 - colour) * (i / opening) : 1;
    sound[i] = low + usual * share * (x - low);
  }
};

const addBite = (
  sound: Float32Array,
  bite: number,
  noise: Float32Array,
  at: { rate: Hertz; turn: number },
): void => {
  if (bite === 0) return;
  const start = (at.turn * 1237) % (noise.length / 2);
  const rise = 0.001 * at.rate;
  const frames = Math.min(sound.length, Math.round(6 * BITE_DECAY * at.rate));
  for (let i = 0; i < frames; i += 1) {
    const shape = Math.min(1, i / rise) * Math.exp(-i / (BITE_DECAY * at.rate));
    sound[i] = (sound[i] as number) + bite * TONE_RMS * shape * (noise[start + i] as number);
  }
};

/** Adds one fiddle note to a stretch of a stem. `turn` is its number in the line. */
export const playBowed = (
  { samples: stem, from }: Stretch,
  bowed: BowedNote,
  turn: number,
  playing: BowedPlaying,
): void => {
  const { rate, noise, variation } = playing;
  const { note, entry, exit } = bowed;
  const start = Math.round(note.start * rate) - from;
  const end = Math.round((note.start + note.length + EXITS[exit].after) * rate) - from;
  const frames = Math.min(stem.length, end) - start;
  if (frames <= 0) return;
  const even = variation === null ? EXACT : humanOf(randomFrom(variation * 7919 + turn), rate);
  const human = playing.vibrato && isLong(bowed) ? { ...even, vibrato: VIBRATO_CENTS } : even;
  const sound = soundOf(bowed, human, playing, frames);
  colourStroke(sound, ENTRIES[entry].colour, note.level, rate);
  addBite(sound, ENTRIES[entry].bite, noise, { rate, turn });
  const strength = strengthOf(bowed, rate, frames);
  const gain = (note.level / ORDINARY_LEVEL) * human.gain;
  for (let i = 0; i < frames; i += 1)
    stem[start + i] = (stem[start + i] as number) + gain * (strength[i] as number) * (sound[i] as number);
};
