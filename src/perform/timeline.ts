import { type MidiNumber, type Seconds, seconds, type WholeNotes } from '../core/index.ts';
import type { Address } from '../score/index.ts';

/** Who sounds. Every pitched voice is played by the same sampler; drum and click are unpitched. */
export type Voice = 'fiddle' | 'guitar' | 'piano' | 'bass' | 'drum' | 'click';

/**
 * How a note begins.
 *
 * `bow`: a new bow stroke. `slur`: same stroke, the finger changes. `cut` and `strike`: the flick itself, a grace
 * note in the stroke that goes on. `afterFlick`: the main note that goes on sounding after a cut or strike inside a
 * stroke. `treble`: one of the short strokes of a treble. `pluck`: strings and keys of the backing. `hit`: drum, click.
 */
export type Attack = 'bow' | 'slur' | 'cut' | 'strike' | 'afterFlick' | 'treble' | 'pluck' | 'hit';

/** One sound, in seconds from the start of the track. */
export interface TimedNote {
  readonly voice: Voice;
  readonly start: Seconds;
  /** Sounding length; the next stroke of the same voice may begin at its end. */
  readonly length: Seconds;
  /** Pitch; for drum and click which sound (see `ClickSound`, `DrumSound`). */
  readonly midi: MidiNumber;
  /** Loudness of playing, 0…1; 0.7 is ordinary. */
  readonly level: number;
  readonly attack: Attack;
  /** Slides into the note from this many semitones (negative: from below), when present. */
  readonly glideFrom?: number;
  /** How long the glide takes, with `glideFrom`. */
  readonly glideTime?: Seconds;
  /** With `cut` or `strike`: a new bow stroke begins with the flick and goes on in the note after it. */
  readonly newBow?: true;
  /** Sounds beside the melody (drone, double stop); same stroke as the melody note with the same start. */
  readonly beside?: true;
  /** Where it stands in the written tune; absent for count-in, click and backing. */
  readonly address?: Address;
  /** Which time round, from 0 over the whole track. */
  readonly pass?: number;
  /** Which tune of a set its address is in, from 0; absent where there is one tune. */
  readonly tune?: number;
}

/** One bar as played. */
export interface TimedBar {
  readonly start: Seconds;
  readonly end: Seconds;
  readonly part: string;
  /** Index in the part's written bars. */
  readonly bar: number;
  /** Printed number, absent for a pick-up. */
  readonly number?: string;
  /** Which time this bar is played, from 0 over the whole track. */
  readonly pass: number;
  /** The learner's turn in an echo track: the fiddle rests. */
  readonly answer?: true;
  /** Which tune of a set it is in, from 0; absent where there is one tune. */
  readonly tune?: number;
}

/** One beat as played, count-in included (`bar` absent there). */
export interface TimedBeat {
  readonly start: Seconds;
  readonly accented: boolean;
  readonly countIn: boolean;
}

/** A tempo from a moment on. */
export interface TempoChange {
  readonly start: Seconds;
  /** Score time since the first sounding bar's start, at that moment. */
  readonly at: WholeNotes;
  readonly beat: WholeNotes;
  readonly beatsPerMinute: number;
}

/** Everything that sounds, when: what the sampler plays, the cursor follows and the MIDI file writes. */
export interface Timeline {
  readonly notes: readonly TimedNote[];
  readonly bars: readonly TimedBar[];
  readonly beats: readonly TimedBeat[];
  readonly tempo: readonly TempoChange[];
  /** From 0 to the end of the last sound's written length, count-in included, ring-out excluded. */
  readonly length: Seconds;
}

/** Strings and room ring on so long after a timeline's end. Ours: longer than the room answers. */
export const RING_OUT: Seconds = seconds(1.6);

/** How long a track of this timeline is, ringing out included. */
export const soundingLength = (timeline: Timeline): Seconds => seconds(timeline.length + RING_OUT);

/** Key numbers of the click's sounds: Source: General MIDI percussion map (wood block high and low). */
export const CLICK = { accented: 76, plain: 77 } as const;
/** Key numbers of the frame drum's strokes. Ours: free numbers in the General MIDI hand drum area. */
export const DRUM = { low: 64, high: 63, tap: 62 } as const;
