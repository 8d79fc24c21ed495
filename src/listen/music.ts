import type { Heard, HeardNote } from './hear.ts';

/** A note belongs to music when it is clear and lies near a semitone of the recording's tuning, cents. Ours. */
const CLEAR = 0.45;
const NEAR = 22;
/** Notes on each side that are looked at, and the share of them that must belong to music. */
const AROUND = 10;
const LEAST_SHARE = 0.62;

/** The notes among music: talk before and between is left out. */
export const musicOf = ({ notes, tuning }: Heard): readonly HeardNote[] => {
  const offset = tuning?.cents ?? 0;
  const fits = notes.map((n) => {
    const off = 100 * n.midi - offset;
    return n.clarity > CLEAR && Math.abs(off - 100 * Math.round(off / 100)) < NEAR;
  });
  return notes.filter((_, i) => {
    // The better of the two sides: the first notes after talk are music.
    const shareOf = (from: number, to: number): number => {
      const side = fits.slice(Math.max(0, from), to);
      return side.length === 0 ? 0 : side.filter(Boolean).length / side.length;
    };
    return fits[i] === true && Math.max(shareOf(i - AROUND, i + 1), shareOf(i, i + AROUND + 1)) >= LEAST_SHARE
      ? true
      : shareOf(i - AROUND, i + AROUND + 1) >= LEAST_SHARE;
  });
};

/** Notes that are too few to be a tune, and the least that they must agree on a tuning. Ours. */
const LEAST_NOTES = 12;
const LEAST_CONFIDENCE = 0.4;
/** Share of what was heard that must be music, and share of the time. */
const LEAST_OF_ALL = 0.3;

/** Whether what is heard is music at all. */
export const isMusic = (heard: Heard, music: readonly HeardNote[]): boolean =>
  music.length >= LEAST_NOTES &&
  music.length >= LEAST_OF_ALL * heard.notes.length &&
  (heard.tuning?.confidence ?? 0) >= LEAST_CONFIDENCE;
