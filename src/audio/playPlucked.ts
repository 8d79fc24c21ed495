import { type Hertz, randomFrom } from '../core/index.ts';
import type { TimedNote } from '../perform/index.ts';
import type { BankVoice } from './bank.ts';
import type { Stretch } from './stretch.ts';
import type { Tones } from './tone.ts';

const ORDINARY_LEVEL = 0.7;
/** A softer stroke is quieter by more than in proportion. Ours. */
const TOUCH = 1.3;
/** Soft strokes are duller: one-pole corner at level 0 and what a level of 1 adds, hertz. Ours. */
const DULLEST = 900;
const BRIGHTER = 12_000;
const LEVEL_SPREAD_DB = 0.7;

/** How long a string takes to fall silent when it is damped, seconds to 1/e. Ours. */
const DAMPING: Readonly<Record<Exclude<BankVoice, 'fiddle'>, number>> = {
  guitar: 0.035,
  bass: 0.04,
  piano: 0.05,
};
/** Damped sound is followed for this many times its time to 1/e: −60 dB. */
const FOLLOWED = 6.9;

/** The longest that a damped string is followed, seconds. */
export const LONGEST_DAMPING = FOLLOWED * Math.max(...Object.values(DAMPING));

/** What playing a plucked line needs besides its notes. */
export interface PluckedPlaying {
  readonly tones: Tones;
  readonly rate: Hertz;
  /** Seed of the small differences between notes; null plays every note exactly alike. */
  readonly variation: number | null;
}

/** Adds one note of guitar, bass or piano to a stretch of a stem. `turn` is its number in the line. */
export const playPlucked = (
  { samples: stem, from }: Stretch,
  note: TimedNote & { readonly voice: Exclude<BankVoice, 'fiddle'> },
  turn: number,
  playing: PluckedPlaying,
): void => {
  const { tones, rate, variation } = playing;
  const start = Math.round(note.start * rate) - from;
  const damping = DAMPING[note.voice] * rate;
  const held = Math.round(note.length * rate);
  const frames = Math.min(stem.length - start, held + Math.ceil(FOLLOWED * damping));
  if (frames <= 0) return;
  const tone = tones(note.voice, note.midi, frames);
  const spread =
    variation === null
      ? 0
      : LEVEL_SPREAD_DB * Math.max(-2, Math.min(2, randomFrom(variation * 104_729 + turn).normal()));
  const pole = Math.exp((-2 * Math.PI * (DULLEST + BRIGHTER * note.level)) / rate);
  const letDown = Math.exp(-1 / damping);
  let gain = (note.level / ORDINARY_LEVEL) ** TOUCH * 10 ** (spread / 20);
  let low = 0;
  for (let i = 0; i < frames; i += 1) {
    low += (1 - pole) * ((tone[i] as number) - low);
    if (i >= held) gain *= letDown;
    stem[start + i] = (stem[start + i] as number) + gain * low;
  }
};
