import { timelineOf, type Voice } from '../perform/index.ts';
import { type PracticeData, SLOWEST_PERCENT } from './practiceData.ts';

/** A key that is played, and its longest note in seconds. */
export interface PracticeKey {
  readonly voice: Exclude<Voice, 'drum' | 'click'>;
  readonly midi: number;
  readonly seconds: number;
}

/** The keys that any version asks of each voice, with the longest notes that the slowest tempo makes. */
export const practiceKeysOf = (data: PracticeData): readonly PracticeKey[] => {
  const keys = new Map<string, PracticeKey>();
  for (const { score } of data.versions) {
    const { notes } = timelineOf(score, {
      dance: data.dance,
      beatsPerMinute: (data.tempos.upToSpeed * SLOWEST_PERCENT) / 100,
      melody: true,
      backing: data.chords,
      band: data.band,
    });
    for (const { voice, midi, length } of notes) {
      if (voice === 'drum' || voice === 'click') continue;
      const before = keys.get(`${voice} ${midi}`)?.seconds ?? 0;
      if (length > before) keys.set(`${voice} ${midi}`, { voice, midi, seconds: length });
    }
  }
  return [...keys.values()];
};
