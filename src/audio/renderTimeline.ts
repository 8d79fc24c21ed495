import { type Decibels, decibels, type Hertz, hertz } from '../core/index.ts';
import { RING_OUT, soundingLength, type TimedNote, type Timeline, type Voice } from '../perform/index.ts';
import { gainOf, type StereoSound } from '../signal/index.ts';
import type { Bank } from './bank.ts';
import { bowingOf } from './bowing.ts';
import { bowNoise } from './noise.ts';
import { playHit } from './percussion.ts';
import { playBowed } from './playBowed.ts';
import { playPlucked } from './playPlucked.ts';
import { roomAnswer } from './room.ts';
import { tonesOf } from './tone.ts';

/** Where a voice stands in the mix. */
export interface VoicePlace {
  /** Against its reference loudness. */
  readonly level: Decibels;
  /** −1 left … 1 right, equal power. */
  readonly pan: number;
}

const place = (level: number, pan: number): VoicePlace => ({ level: decibels(level), pan });

/** The usual mix: the tune in front, backing about it. Ours: backing together some 6 LU below the fiddle. */
const MIX: Readonly<Record<Voice, VoicePlace>> = {
  fiddle: place(0, -0.08),
  guitar: place(-9, 0.35),
  piano: place(-9, -0.35),
  bass: place(-6, 0),
  drum: place(-9, 0.15),
  click: place(-6, 0),
};

const VOICES: readonly Voice[] = ['fiddle', 'guitar', 'piano', 'bass', 'drum', 'click'];

/** How to turn a timeline into sound. */
export interface RenderOptions {
  /** Samples a second; 44,100 unless said. */
  readonly rate?: Hertz;
  /** Which voices sound; all unless said. One alone is its stem. */
  readonly voices?: readonly Voice[];
  /** Seed of the small differences between notes; null plays every note exactly alike. 1 unless said. */
  readonly variation?: number | null;
  /** The fiddle's vibrato on long notes; none unless said. */
  readonly vibrato?: boolean;
  /** How much of the room is heard, against the dry sound; null: dry. −15 dB unless said. */
  readonly room?: Decibels | null;
  /** Places in the mix that differ from `MIX`. */
  readonly mix?: Partial<Record<Voice, VoicePlace>>;
}

const USUAL_RATE = hertz(44_100);
const USUAL_ROOM = decibels(-15);

const stemOf = (
  voice: Voice,
  notes: readonly TimedNote[],
  frames: number,
  playing: { bank: Bank; rate: Hertz; variation: number | null; vibrato: boolean },
): Float32Array => {
  const stem = new Float32Array(frames);
  const { bank, rate, variation, vibrato } = playing;
  const tones = tonesOf(bank, rate);
  switch (voice) {
    case 'fiddle': {
      const noise = bowNoise(rate);
      bowingOf(notes).forEach((bowed, turn) => {
        playBowed(stem, bowed, turn, { tones, rate, noise, variation, vibrato });
      });
      return stem;
    }
    case 'guitar':
    case 'piano':
    case 'bass':
      notes.forEach((note, turn) => {
        playPlucked(stem, { ...note, voice }, turn, { tones, rate, variation });
      });
      return stem;
    case 'drum':
    case 'click':
      for (const hit of notes) playHit(stem, hit, rate);
      return stem;
    default:
      return voice satisfies never;
  }
};

/** Adds a stem to both sides and, where there is a room, to what is sent into it. */
const addStem = (
  stem: Float32Array,
  { level, pan }: VoicePlace,
  to: { left: Float32Array; right: Float32Array; sent: Float32Array | null },
): void => {
  const { left, right, sent } = to;
  const gain = gainOf(level);
  const angle = (Math.PI / 4) * (1 + pan);
  const [toLeft, toRight] = [gain * Math.cos(angle), gain * Math.sin(angle)];
  for (let i = 0; i < stem.length; i += 1) {
    const x = stem[i] as number;
    if (x === 0) continue;
    left[i] = (left[i] as number) + toLeft * x;
    right[i] = (right[i] as number) + toRight * x;
    if (sent !== null) sent[i] = (sent[i] as number) + gain * x;
  }
};

const addRoom = (answer: StereoSound, gain: number, left: Float32Array, right: Float32Array): void => {
  for (let i = 0; i < left.length; i += 1) {
    left[i] = (left[i] as number) + gain * (answer.left[i] as number);
    right[i] = (right[i] as number) + gain * (answer.right[i] as number);
  }
};

/** The last quarter of the ringing out fades to nothing. */
const fadeEnd = (out: Float32Array, rate: Hertz): void => {
  const frames = Math.min(out.length, Math.round((RING_OUT / 4) * rate));
  for (let i = 0; i < frames; i += 1) {
    const at = out.length - 1 - i;
    out[at] = (out[at] as number) * (i / frames);
  }
};

/**
 * What does a timeline sound like?
 *
 * Every note begins at its own sample, `round(start × rate)`. Not settled in loudness: `settleLoudness` of the signal room does that.
 * Same input, same samples.
 * @returns stereo, as long as the timeline and 1.6 seconds of ringing out
 * @throws RangeError when a note starts before 0
 */
export const renderTimeline = (timeline: Timeline, bank: Bank, options: RenderOptions = {}): StereoSound => {
  const { rate = USUAL_RATE, voices = VOICES, variation = 1, vibrato = false, room = USUAL_ROOM } = options;
  const frames = Math.ceil(soundingLength(timeline) * rate);
  const early = timeline.notes.find((n) => n.start < 0);
  if (early !== undefined) throw new RangeError(`renderTimeline: a note starts at ${early.start} s`);
  const left = new Float32Array(frames);
  const right = new Float32Array(frames);
  const sent = room === null ? null : new Float32Array(frames);
  for (const voice of VOICES.filter((v) => voices.includes(v))) {
    const notes = timeline.notes.filter((n) => n.voice === voice);
    if (notes.length === 0) continue;
    const stem = stemOf(voice, notes, frames, { bank, rate, variation, vibrato });
    addStem(stem, options.mix?.[voice] ?? MIX[voice], { left, right, sent: voice === 'click' ? null : sent });
  }
  if (sent !== null && room !== null) {
    addRoom(roomAnswer(sent, rate), gainOf(room), left, right);
  }
  fadeEnd(left, rate);
  fadeEnd(right, rate);
  return { rate, left, right };
};
