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
}
