import type { Hertz } from '../core/index.ts';
import type { TimedNote, Voice } from '../perform/index.ts';
import type { Bank, BankVoice } from './bank.ts';
import type { BowedNote } from './bowing.ts';
import { type FaderGroup, liveMixerOf, type Sounding } from './liveMixer.ts';
import { bowNoise } from './noise.ts';
import {
  bowedSounding,
  gainsOf,
  MIX,
  type Playing,
  struckSounding,
  type VoicePlace,
} from './renderTimeline.ts';
import { tonesOf } from './tone.ts';

/** A note of the backing or a click. */
export type StruckNote = TimedNote & { readonly voice: Exclude<Voice, 'fiddle'> };

/** A note to be sounded, worked out by the bow where it is a fiddle's; it begins at a frame, not at its `start`. */
export type LiveNote = {
  readonly frame: number;
  /** Its number in its line: small differences between notes come from it. */
  readonly turn: number;
  /** Another place in the mix than its voice's usual one. */
  readonly place?: VoicePlace;
} & (
  | { readonly kind: 'bowed'; readonly bowed: BowedNote }
  | { readonly kind: 'struck'; readonly note: StruckNote }
);

/** Sound that is asked for block by block while notes go on being added. */
export interface LiveSound {
  /** The frame that the next block begins with. */
  readonly frame: () => number;
  /** Adds notes; one whose frame has passed begins at once. */
  readonly add: (notes: readonly LiveNote[]) => void;
  /** Works a key out beforehand, for notes of up to so many frames: the first note of each key costs most. */
  readonly prepare: (voice: BankVoice, midi: number, frames: number) => void;
  /** Gain of a group, 1 as it is. It is reached within a few hundredths of a second. */
  readonly setFader: (group: FaderGroup, gain: number) => void;
  /** Lets everything fall silent at once, without a click, and forgets what has not begun. */
  readonly silence: () => void;
  /** The next `left.length` frames, written over both sides. */
  readonly render: (left: Float32Array, right: Float32Array) => void;
  /** Notes that sound or wait. */
  readonly held: () => number;
}

/** How the live sound is made. */
export interface LiveOptions {
  readonly rate: Hertz;
  /** Seed of the small differences between notes; null plays every note exactly alike. 1 unless said. */
  readonly variation?: number | null;
  /** The fiddle's vibrato on long notes; none unless said. */
  readonly vibrato?: boolean;
  /** Factor on everything. 1 unless said. */
  readonly gain?: number;
}

const GROUPS: Readonly<Record<Voice, FaderGroup>> = {
  fiddle: 'fiddle',
  guitar: 'backing',
  piano: 'backing',
  bass: 'backing',
  drum: 'backing',
  click: 'click',
};

/** A note is worked out at most so long before it begins, seconds: one a block, so that no block costs much. Ours. */
const AHEAD = 0.2;
const noteOf = (live: LiveNote): TimedNote => (live.kind === 'bowed' ? live.bowed.note : live.note);

/** The note's own samples from its first one on. */
const soundOf = (live: LiveNote, playing: Playing): Float32Array => {
  const sounding =
    live.kind === 'bowed'
      ? bowedSounding(live.bowed, live.turn, playing)
      : struckSounding(live.note, live.turn, playing);
  const samples = new Float32Array(sounding.end - sounding.start);
  sounding.play({ samples, from: sounding.start });
  return samples;
};

/**
 * Factor on the live sound. Ours: brings the full version with backing to the −16 LUFS of the tracks, within a quarter
 * of a decibel over the demo lessons.
 */
export const LIVE_GAIN = 1.56;

/**
 * Plays notes as they come: the same sampler, mix and room as `renderTimeline`, a block at a time.
 *
 * Equal notes at equal frames give the same samples as the whole track does, but for its faded end.
 */
export const liveSoundOf = (bank: Bank, options: LiveOptions): LiveSound => {
  const { rate, variation = 1, vibrato = false, gain = 1 } = options;
  const playing = { tones: tonesOf(bank, rate), rate, noise: bowNoise(rate), variation, vibrato };
  const mixer = liveMixerOf(rate, gain);
  const waiting: LiveNote[] = [];
  let sounding: Sounding[] = [];
  let frame = 0;
  let silenced = false;

  const work = (live: LiveNote): void => {
    const { voice } = noteOf(live);
    const { gain: toRoom, toLeft, toRight } = gainsOf(live.place ?? MIX[voice]);
    sounding.push({
      frame: Math.max(frame, live.frame),
      sound: soundOf(live, playing),
      group: GROUPS[voice],
      toLeft,
      toRight,
      toRoom: voice === 'click' ? 0 : toRoom,
    });
  };
  /** What is due in the next frames, and one that is not yet: so no block costs much. */
  const workAhead = (frames: number): void => {
    let spare = 1;
    for (let next = waiting[0]; next !== undefined; next = waiting[0]) {
      const due = next.frame < frame + frames;
      if (!due && (spare === 0 || next.frame > frame + AHEAD * rate)) return;
      if (!due) spare -= 1;
      waiting.shift();
      work(next);
    }
  };

  return {
    frame: () => frame,
    held: () => waiting.length + sounding.length,
    add: (notes) => {
      waiting.push(...notes);
      waiting.sort((a, b) => a.frame - b.frame);
    },
    prepare: (voice, midi, frames) => {
      playing.tones(voice, midi, frames);
    },
    setFader: mixer.setFader,
    silence: () => {
      waiting.length = 0;
      silenced = sounding.length > 0;
      if (silenced) mixer.silence(frame);
    },
    render: (left, right) => {
      if (silenced && !mixer.isFading(frame)) {
        sounding = [];
        silenced = false;
      }
      if (!silenced) workAhead(left.length);
      mixer.mix(sounding, frame, left, right);
      frame += left.length;
      sounding = sounding.filter((s) => s.frame + s.sound.length > frame);
    },
  };
};
