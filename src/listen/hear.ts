import { type Hertz, seconds as inSeconds, type Seconds } from '../core/index.ts';
import { resampled } from '../signal/index.ts';
import { FRAME_RATE, LISTENING_RATE, LOWEST_MIDI, SEMITONES } from './data.ts';
import { type Flicked, withFlicks } from './flicks.ts';
import { noteTrack } from './noteTrack.ts';
import { pitchLineOf } from './pitchLine.ts';
import { risesOf } from './rises.ts';
import { type Salience, salienceOf } from './salience.ts';
import { roughTuning, type Tuning, tuningOf } from './tuning.ts';

/** A note as heard. */
export interface HeardNote {
  readonly start: Seconds;
  readonly end: Seconds;
  /** At A = 440 Hz, fractional: as it really sounded. */
  readonly midi: number;
  /** Nearest semitone in the recording's own tuning. */
  readonly semitone: number;
  /** The flick that begins it, if one was heard. */
  readonly ornament?: 'cut' | 'strike';
  /** How steadily and strongly its pitch sounds, 0…1. */
  readonly clarity: number;
}

/** What was heard before anything is known of the tune. */
export interface Heard {
  readonly seconds: Seconds;
  readonly tuning: Tuning | null;
  readonly notes: readonly HeardNote[];
}

/** Told how far the work is, 0…1. */
export type Told = (share: number) => void;

/** At a note's edges its pitch is that of its neighbours still, seconds. */
const EDGE = 0.025;
/** Frames within so many cents of the note's middle pitch are steady. */
const STEADY = 35;

/** Middle value of a list; 0 when it is empty. */
const middleOf = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

const noteFrom = (note: Flicked, salience: Salience, offset: number): HeardNote => {
  const edge = Math.min(Math.round(EDGE * FRAME_RATE), Math.floor((note.end - note.start) / 4));
  const s = note.semitone - LOWEST_MIDI;
  const frames = Array.from(
    { length: note.end - note.start - 2 * edge },
    (_, i) => (note.start + edge + i) * SEMITONES + s,
  );
  const cents = frames.map((k) => salience.cents[k] as number);
  const middle = middleOf(cents);
  const steady = cents.filter((c) => Math.abs(c - middle) < STEADY).length / Math.max(1, cents.length);
  const strength = middleOf(frames.map((k) => Math.min(1, salience.strength[k] as number)));
  return {
    start: inSeconds(note.start / FRAME_RATE),
    end: inSeconds(note.end / FRAME_RATE),
    midi: note.semitone + (offset + middle) / 100,
    semitone: note.semitone,
    clarity: steady * strength,
    ...(note.flick === undefined ? {} : { ornament: note.flick }),
  };
};

/** Amplitude of loud moments. */
const loudestOf = (samples: Float32Array): number => {
  const every = Math.max(1, Math.floor(samples.length / 20_000));
  const some = Float32Array.from({ length: Math.floor(samples.length / every) }, (_, i) =>
    Math.abs(samples[i * every] as number),
  ).sort();
  return Math.max(1e-5, some[Math.floor(0.98 * some.length)] ?? 0);
};

/**
 * Hears the notes of a recording: tuning first, then the strength of every semitone, then the line of notes that
 * explains it, then the flicks in it.
 * @param samples - mono, nominally −1…1
 */
export const hear = (samples: Float32Array, rate: Hertz, told: Told = () => undefined): Heard => {
  const sound = rate === LISTENING_RATE ? samples : resampled(samples, rate, LISTENING_RATE);
  const length = inSeconds(samples.length / rate);
  told(0.1);
  const offset = roughTuning(sound);
  told(0.2);
  const salience = salienceOf(sound, offset);
  told(0.6);
  const rises = risesOf(sound, offset, loudestOf(sound));
  told(0.7);
  const track = noteTrack(salience, rises);
  told(0.8);
  const notes = withFlicks(track, pitchLineOf(sound), offset).map((n) => noteFrom(n, salience, offset));
  const tuning = tuningOf(notes.map((n) => ({ midi: n.midi, length: n.end - n.start })));
  return { seconds: length, tuning, notes };
};
