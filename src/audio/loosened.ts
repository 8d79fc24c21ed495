import { type Random, randomFrom, seconds } from '../core/index.ts';
import type { TimedNote, Voice } from '../perform/index.ts';

/** How far hands come early or late: standard deviation and most, seconds. Ours: heard as life, not as fault. */
const SPREAD = { fiddle: 0.0035, others: 0.0025, most: 0.009 } as const;
/** Notes that begin within this time are one movement of a hand: a stroke over the strings, a drone with its note. Ours. */
const ONE_MOVEMENT = 0.11;
/** A note keeps at least this share of its length. Ours. */
const KEPT_SHARE = 0.6;

const moved = (random: Random, spread: number): number =>
  Math.max(-SPREAD.most, Math.min(SPREAD.most, spread * random.normal()));

/** Only a new movement of the bow is early or late: what follows inside a stroke keeps its distance to it. */
const beginsMovement = (note: TimedNote, before: TimedNote | undefined): boolean => {
  if (before === undefined || note.voice !== 'fiddle') return true;
  if (note.start - before.start < ONE_MOVEMENT) return false;
  return note.attack === 'bow' || note.attack === 'treble' || note.newBow === true;
};

/**
 * One voice's notes a little early or late, as hands are; two notes that joined still join.
 *
 * The first note stays where it is, click and drum are left to whoever keeps time.
 * @param notes - of one voice, by start
 * @param seed - the same seed gives the same differences
 */
export const loosened = (voice: Voice, notes: readonly TimedNote[], seed: number): readonly TimedNote[] => {
  if (voice === 'click') return notes;
  const random = randomFrom(seed * 7561 + voice.length);
  const spread = voice === 'fiddle' ? SPREAD.fiddle : SPREAD.others;
  let by = 0;
  let lead: TimedNote | undefined;
  const shifts = notes.map((note) => {
    const fresh =
      voice === 'fiddle'
        ? beginsMovement(note, lead)
        : lead === undefined || note.start - lead.start >= ONE_MOVEMENT;
    if (fresh) {
      by = lead === undefined ? 0 : moved(random, spread);
      lead = note;
    }
    return by;
  });
  const endShifts = new Map(notes.map((note, i) => [Math.round(note.start * 1e6), shifts[i] ?? 0] as const));
  return notes.map((note, i) => {
    const shift = shifts[i] ?? 0;
    const end = note.start + note.length;
    // A note that ends where another begins moves its end with that beginning.
    const newEnd = end + (endShifts.get(Math.round(end * 1e6)) ?? shift);
    const start = Math.max(0, note.start + shift);
    return {
      ...note,
      start: seconds(start),
      length: seconds(Math.max(newEnd - start, note.length * KEPT_SHARE)),
    };
  });
};
