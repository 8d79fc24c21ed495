/** Something that happens at a tick of a MIDI track. Channels are numbered 1 to 16, as people number them. */
export type MidiEvent = { readonly tick: number } & (
  | { readonly kind: 'tempo'; readonly microsecondsPerCrotchet: number }
  | {
      readonly kind: 'timeSignature';
      readonly count: number;
      /** Lower number, a power of two. */
      readonly unit: number;
      /** MIDI clocks (24 a crotchet) in a metronome click; 24 when absent. */
      readonly clocksPerClick?: number;
    }
  | {
      readonly kind: 'keySignature';
      /** Sharps, flats below zero: −7…7. */
      readonly fifths: number;
      readonly minor: boolean;
    }
  | { readonly kind: MidiTextKind; readonly text: string }
  | { readonly kind: 'programChange'; readonly channel: number; readonly program: number }
  | {
      readonly kind: 'controlChange';
      readonly channel: number;
      readonly control: number;
      readonly value: number;
    }
  | {
      readonly kind: 'noteOn' | 'noteOff';
      readonly channel: number;
      readonly key: number;
      readonly velocity: number;
    }
  | {
      readonly kind: 'pitchBend';
      readonly channel: number;
      /** −8192…8191, 0 is the middle. */
      readonly bend: number;
    }
);

/** Text events: what the text is for. */
export type MidiTextKind = 'text' | 'copyright' | 'trackName' | 'lyric' | 'marker';

/** One track. Events may come in any order; those of one tick keep theirs. */
export interface MidiTrack {
  readonly events: readonly MidiEvent[];
  /** Where the track ends; at its last event when absent. */
  readonly end?: number;
}

/** A MIDI file as a value. */
export interface MidiSong {
  /** 0: one track holds everything; 1: tracks sound together, the first has the tempo map. */
  readonly format: 0 | 1;
  readonly ticksPerCrotchet: number;
  readonly tracks: readonly MidiTrack[];
}
