/** What a sound file says about itself to a music player. */
export interface SoundTags {
  readonly title?: string;
  readonly artist?: string;
  readonly album?: string;
  /** Place in the set, from 1, and how many there are. */
  readonly track?: { readonly number: number; readonly outOf?: number };
  /** "2024", "2024-05" or "2024-05-01". */
  readonly date?: string;
  readonly comment?: string;
  /** A PNG picture for the player to show; WAV has no place for one. */
  readonly cover?: Uint8Array;
}

/** What stops encoding, and who hears how far it has come. */
export interface EncodingWatch {
  /** Stops the work between two chunks of about a second and a half. */
  readonly signal?: AbortSignal;
  /** Called with 0…1 as the work goes on. */
  readonly onProgress?: (fraction: number) => void;
}
