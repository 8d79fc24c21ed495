import type { Hertz } from '../core/index.ts';
import { gainOf } from '../signal/index.ts';
import { USUAL_ROOM } from './renderTimeline.ts';
import { emptyRoom } from './room.ts';

/** What has a fader of its own. */
export type FaderGroup = 'fiddle' | 'backing' | 'click';

/** A note that has been worked out. */
export interface Sounding {
  readonly frame: number;
  readonly sound: Float32Array;
  readonly group: FaderGroup;
  readonly toLeft: number;
  readonly toRight: number;
  readonly toRoom: number;
}

/** Faders and silence take this long to 1/e, seconds. Ours. */
const FADE = 0.012;
/** What is kept of a sound that was told to stop, seconds. */
const SILENCED_AFTER = 0.09;

/** Sums what sounds through the faders and the room. */
export interface LiveMixer {
  readonly setFader: (group: FaderGroup, gain: number) => void;
  /** Begins to fade everything out. */
  readonly silence: (frame: number) => void;
  /** Whether a silence still goes on at a frame; when it has ended, the room is empty and all is as before. */
  readonly isFading: (frame: number) => boolean;
  /** Mixes the frames from `frame` on, as many as the sides have, over what was in them. */
  readonly mix: (
    sounding: readonly Sounding[],
    frame: number,
    left: Float32Array,
    right: Float32Array,
  ) => void;
}

/** A fader, moved a little towards its goal with every frame. */
interface Fader {
  goal: number;
  now: number;
}

const GROUPS: readonly FaderGroup[] = ['fiddle', 'backing', 'click'];

/**
 * Makes a mixer.
 * @param gain - factor on everything
 */
export const liveMixerOf = (rate: Hertz, gain: number): LiveMixer => {
  const wet = gainOf(USUAL_ROOM);
  const fade = 1 - Math.exp(-1 / (FADE * rate));
  const faders: Readonly<Record<FaderGroup, Fader>> = {
    fiddle: { goal: 1, now: 1 },
    backing: { goal: 1, now: 1 },
    click: { goal: 1, now: 1 },
  };
  let room = emptyRoom(rate);
  let sent = new Float32Array(0);
  let silencedAt: number | null = null;
  let master = 1;

  const mixGroup = (
    sounding: readonly Sounding[],
    frame: number,
    left: Float32Array,
    right: Float32Array,
    fader: Fader,
  ): void => {
    for (const { frame: start, sound, toLeft, toRight, toRoom } of sounding) {
      const first = Math.max(0, start - frame);
      const last = Math.min(left.length, start + sound.length - frame);
      let level = fader.now;
      for (let i = 0; i < last; i += 1) {
        level += fade * (fader.goal - level);
        if (i < first) continue;
        const x = level * (sound[frame + i - start] as number);
        left[i] = (left[i] as number) + toLeft * x;
        right[i] = (right[i] as number) + toRight * x;
        sent[i] = (sent[i] as number) + toRoom * x;
      }
    }
    for (let i = 0; i < left.length; i += 1) fader.now += fade * (fader.goal - fader.now);
  };

  return {
    setFader: (group, goal) => {
      faders[group].goal = goal;
    },
    silence: (frame) => {
      silencedAt = frame;
    },
    isFading: (frame) => {
      if (silencedAt === null) return false;
      if (frame < silencedAt + SILENCED_AFTER * rate) return true;
      silencedAt = null;
      master = 1;
      room = emptyRoom(rate);
      return false;
    },
    mix: (sounding, frame, left, right) => {
      if (sent.length !== left.length) sent = new Float32Array(left.length);
      left.fill(0);
      right.fill(0);
      sent.fill(0);
      for (const group of GROUPS)
        mixGroup(
          sounding.filter((s) => s.group === group),
          frame,
          left,
          right,
          faders[group],
        );
      const answer = room.answer(sent);
      for (let i = 0; i < left.length; i += 1) {
        if (silencedAt !== null) master -= fade * master;
        left[i] = soft(gain * master * ((left[i] as number) + wet * (answer.left[i] as number)));
        right[i] = soft(gain * master * ((right[i] as number) + wet * (answer.right[i] as number)));
      }
    },
  };
};

/** Up to here the sum of all voices is left as it is; above, it is bent so that it never passes 1. Ours. */
const BENT_FROM = 0.8;

const soft = (x: number): number => {
  const size = Math.abs(x);
  if (size <= BENT_FROM) return x;
  const over = (size - BENT_FROM) / (1 - BENT_FROM);
  return Math.sign(x) * (BENT_FROM + (1 - BENT_FROM) * Math.tanh(over));
};
