import type { Hertz } from '../core/index.ts';

/** A recording as samples. */
export interface DecodedSound {
  readonly kind: 'sound';
  readonly rate: Hertz;
  /** The file's own, where it was asked to be given at another. */
  readonly recordedAt: Hertz;
  /** One, or left and right. */
  readonly channels: readonly Float32Array[];
}

/** Why a file could not be decoded, in a sentence. */
export interface DecodeProblem {
  readonly kind: 'problem';
  readonly message: string;
}

/** How to decode. */
export interface DecodeOptions {
  /** All channels mixed into one as they come (which keeps memory low), or the first two kept apart. */
  readonly channels: 'mixed' | 'apart';
  /** Samples a second to be given, the sound resampled as it comes: as recorded unless said. */
  readonly rate?: Hertz;
  /** Longest recording that is taken, seconds; 3,600 unless said. */
  readonly longest?: number;
  /** Told 0…1 as the work goes on. */
  readonly told?: (share: number) => void;
  readonly signal?: AbortSignal;
}
