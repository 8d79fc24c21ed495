import type { Alignment } from './align.ts';
import type { HeardNote } from './hear.ts';
import type { WrittenTune } from './written.ts';

/** One way in which a bar was played otherwise than written. */
export interface Difference {
  readonly part: string;
  /** Printed number; null in a pick-up. */
  readonly number: number | null;
  /** How often the part was played before, from 0. */
  readonly pass: number;
  readonly seconds: number;
  readonly kind: 'other' | 'leftOut' | 'added';
  /** Semitones: as written (absent for what was added), as played (absent for what was left out). */
  readonly written?: number;
  readonly played?: number;
}

/** Notes shorter than this are ornaments: they don't count as added, seconds. */
const ADDED = 0.09;

/** What was played otherwise than written, in order. Ornaments don't count. */
export const differencesOf = (
  { matches, transposition }: Alignment,
  tune: WrittenTune,
  heard: readonly HeardNote[],
): readonly Difference[] => {
  const found: Difference[] = [];
  const passes = new Map<string, number>();
  matches.forEach((match, i) => {
    const section = tune.sections[match.section];
    const note = section?.notes[match.note];
    const sound = heard[match.heard];
    if (section === undefined || note === undefined || sound === undefined) return;
    if (match.entered) passes.set(section.part, (passes.get(section.part) ?? -1) + 1);
    const placeOf = (bar: number) => ({
      part: section.part,
      number: section.bars[bar]?.number ?? null,
      pass: passes.get(section.part) ?? 0,
      seconds: sound.start as number,
    });
    const played = sound.semitone - transposition;
    if (played !== note.midi) found.push({ ...placeOf(note.bar), kind: 'other', written: note.midi, played });
    const next = matches[i + 1];
    if (next === undefined || next.entered || next.section !== match.section) return;
    for (let k = match.note + 1; k < next.note; k += 1) {
      const missed = section.notes[k];
      if (missed !== undefined) found.push({ ...placeOf(missed.bar), kind: 'leftOut', written: missed.midi });
    }
    for (let k = match.heard + 1; k < next.heard; k += 1) {
      const extra = heard[k];
      if (extra === undefined || extra.end - extra.start < ADDED || extra.semitone === sound.semitone)
        continue;
      found.push({ ...placeOf(note.bar), kind: 'added', played: extra.semitone - transposition });
    }
  });
  return found;
};
