import { type Decibels, decibels, type Hertz, hertz } from '../core/index.ts';
import { RING_OUT, soundingLength, type TimedNote, type Timeline, type Voice } from '../perform/index.ts';
import { freshSilence, gainOf, type SilenceOf, type StereoSound } from '../signal/index.ts';
import type { Bank } from './bank.ts';
import { type BowedNote, bowingOf } from './bowing.ts';
import { EXITS } from './bowShapes.ts';
import { loosened } from './loosened.ts';
import { bowNoise } from './noise.ts';
import { LONGEST_HIT, playHit } from './percussion.ts';
import { playBowed } from './playBowed.ts';
import { LONGEST_DAMPING, playPlucked } from './playPlucked.ts';
import { emptyRoom } from './room.ts';
import { type Sounding, stemInStretches } from './stretch.ts';
import { type Tones, tonesOf } from './tone.ts';

/** Where a voice stands in the mix. */
export interface VoicePlace {
  /** Against its reference loudness. */
  readonly level: Decibels;
  /** −1 left … 1 right, equal power. */
  readonly pan: number;
}

const placeOf = (level: number, pan: number): VoicePlace => ({ level: decibels(level), pan });

/** The usual mix: the tune in front, backing about it. Ours: backing together some 6 LU below the fiddle. */
export const MIX: Readonly<Record<Voice, VoicePlace>> = {
  fiddle: placeOf(0, -0.08),
  guitar: placeOf(-9, 0.35),
  piano: placeOf(-9, -0.35),
  bass: placeOf(-6, 0),
  drum: placeOf(-9, 0.15),
  click: placeOf(-6, 0),
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
  /** Where the samples lie; in memory of their own unless said. */
  readonly silence?: SilenceOf;
}

/** So much is rendered at a time, seconds: memory for a long track stays small. Ours. */
const STRETCH = 2;
const USUAL_RATE = hertz(44_100);
/** How much of the room is heard unless it is said. */
export const USUAL_ROOM = decibels(-15);

/** What stems are played with. */
export interface Playing {
  readonly tones: Tones;
  readonly rate: Hertz;
  readonly noise: Float32Array;
  readonly variation: number | null;
  readonly vibrato: boolean;
}

/** The samples that a note can change, when it sounds so long after its end. */
const samplesOf = (note: TimedNote, rate: Hertz, after: number): Pick<Sounding, 'start' | 'end'> => ({
  start: Math.round(note.start * rate),
  end: Math.ceil((note.start + note.length + after) * rate) + 1,
});

/** A fiddle's note as a sounding. `turn` is its number in the line. */
export const bowedSounding = (bowed: BowedNote, turn: number, playing: Playing): Sounding => ({
  ...samplesOf(bowed.note, playing.rate, EXITS[bowed.exit].after),
  play: (into) => playBowed(into, bowed, turn, playing),
});

/** A note of another voice as a sounding. `turn` is its number in the line. */
export const struckSounding = (
  note: TimedNote & { readonly voice: Exclude<Voice, 'fiddle'> },
  turn: number,
  playing: Playing,
): Sounding => {
  const { voice } = note;
  switch (voice) {
    case 'guitar':
    case 'piano':
    case 'bass':
      return {
        ...samplesOf(note, playing.rate, LONGEST_DAMPING),
        play: (into) => playPlucked(into, { ...note, voice }, turn, playing),
      };
    case 'drum':
    case 'click':
      return {
        ...samplesOf(note, playing.rate, LONGEST_HIT),
        play: (into) => playHit(into, note, playing.rate),
      };
    default:
      return voice satisfies never;
  }
};

/** A voice's notes as soundings of its stem, by start. */
const soundingsOf = (voice: Voice, notes: readonly TimedNote[], playing: Playing): readonly Sounding[] =>
  voice === 'fiddle'
    ? bowingOf(notes).map((bowed, turn) => bowedSounding(bowed, turn, playing))
    : notes.map((note, turn) => struckSounding({ ...note, voice }, turn, playing));

/** A place in the mix as gains: into the room, to the left, to the right. */
export const gainsOf = ({
  level,
  pan,
}: VoicePlace): { readonly gain: number; readonly toLeft: number; readonly toRight: number } => {
  const gain = gainOf(level);
  const angle = (Math.PI / 4) * (1 + pan);
  return { gain, toLeft: gain * Math.cos(angle), toRight: gain * Math.sin(angle) };
};

/** Adds a stretch of a stem to both sides and, where there is a room, to what is sent into it. */
const addStem = (
  stem: Float32Array,
  place: VoicePlace,
  to: { left: Float32Array; right: Float32Array; sent: Float32Array | null },
): void => {
  const { left, right, sent } = to;
  const { gain, toLeft, toRight } = gainsOf(place);
  for (let i = 0; i < left.length; i += 1) {
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
  const { left, right } = (options.silence ?? freshSilence)(frames, rate);
  const length = Math.round(STRETCH * rate);
  const playing = { tones: tonesOf(bank, rate), rate, noise: bowNoise(rate), variation, vibrato };
  const stems = VOICES.filter((voice) => voices.includes(voice)).flatMap((voice) => {
    const written = timeline.notes.filter((n) => n.voice === voice);
    if (written.length === 0) return [];
    const notes = variation === null ? written : loosened(voice, written, variation);
    const soundings = soundingsOf(voice, notes, playing);
    return [{ voice, next: stemInStretches(soundings, length) }];
  });
  const around = emptyRoom(rate);
  for (let from = 0; from < frames; from += length) {
    const sides = [left.subarray(from, from + length), right.subarray(from, from + length)] as const;
    const sent = room === null ? null : new Float32Array(sides[0].length);
    for (const { voice, next } of stems) {
      const to = { left: sides[0], right: sides[1], sent: voice === 'click' ? null : sent };
      addStem(next(), options.mix?.[voice] ?? MIX[voice], to);
    }
    if (sent !== null && room !== null) addRoom(around.answer(sent), gainOf(room), ...sides);
  }
  fadeEnd(left, rate);
  fadeEnd(right, rate);
  return { rate, left, right };
};
