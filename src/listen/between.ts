import type { HeardNote } from './hear.ts';

/** A pitch that a player puts between two semitones. */
export interface BetweenPitch {
  /** The lower of the two semitones, as a MIDI number. */
  readonly semitone: number;
  /** Cents above it, in the recording's own tuning. */
  readonly cents: number;
  readonly notes: number;
}

/** A note so far from both semitones is between them, cents. Ours: intonation scatters by about 10. */
const BETWEEN = 28;
/** So many notes, and this share of those on the two semitones, make it a habit. */
const LEAST_NOTES = 4;
const LEAST_SHARE = 0.4;
/** Shorter notes tell their pitch too roughly, seconds. */
const SHORTEST = 0.1;

/** Which pitches are played between natural and sharp, time and again? They are reported, not rounded. */
export const betweenPitches = (notes: readonly HeardNote[], offset: number): readonly BetweenPitch[] => {
  const exact = notes
    .filter((n) => n.end - n.start >= SHORTEST)
    .map((n) => n.midi - offset / 100)
    .sort((a, b) => a - b);
  const lowest = Math.floor(exact[0] ?? 0);
  const highest = Math.ceil(exact.at(-1) ?? -1);
  const found: BetweenPitch[] = [];
  for (let semitone = lowest; semitone <= highest; semitone += 1) {
    const near = exact.filter((x) => x > semitone - 0.28 && x < semitone + 1.28);
    const inside = near.map((x) => 100 * (x - semitone)).filter((c) => c > BETWEEN && c < 100 - BETWEEN);
    if (inside.length < LEAST_NOTES || inside.length < LEAST_SHARE * near.length) continue;
    found.push({ semitone, cents: inside[inside.length >> 1] ?? 50, notes: inside.length });
  }
  return found;
};
