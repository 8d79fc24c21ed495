import { hertz } from '../core/index.ts';

// Numbers of listening. Ours: tuned on one half of the generated recordings of measure/listenParts, tabled on the other.

/** Samples a second that everything is heard at: a fiddle's first five harmonics lie below half of it. */
export const LISTENING_RATE = hertz(11_025);
/** Samples from frame to frame: 5.8 ms. */
const HOP = 64;
/** Frames a second. */
export const FRAME_RATE = LISTENING_RATE / HOP;

/** Frames for pitch: 70 ms of sound. */
export const PITCH_FRAME = { window: 768, points: 2048, hop: HOP } as const;
/** Frames for onsets: 35 ms of sound. */
export const ONSET_FRAME = { window: 384, points: 512, hop: HOP } as const;

/** Lowest semitone that is looked for: F♯3, below the G string. */
export const LOWEST_MIDI = 54;
/** Highest: D7. */
const HIGHEST_MIDI = 98;
/** Semitones looked for. */
export const SEMITONES = HIGHEST_MIDI - LOWEST_MIDI + 1;
/** Steps in a semitone at which its pitch is looked for: 20 cents. */
export const STEPS_PER_SEMITONE = 5;
