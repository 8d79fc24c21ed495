import { toNumber } from '../core/index.ts';
import { chromaOf, type Key, keyOf, type Mode, type PitchClass, pitchClass } from '../music/index.ts';
import { barsOf, type Score } from '../score/index.ts';

/** Keynote and mode that a bar's chords are reckoned from. */
export interface Tonality {
  readonly tonic: PitchClass;
  readonly mode: Mode;
}

/** The pipe scale is A Mixolydian. Common practice. */
const PIPES: Tonality = { tonic: pitchClass('A'), mode: 'mixolydian' };

/** The mode whose signature lies nearest to the accidentals in force above a keynote. */
const nearestMode = (key: Key, tonic: PitchClass): Mode => {
  const candidates: readonly Mode[] = ['major', 'mixolydian', 'dorian', 'minor', 'lydian', 'phrygian'];
  let best: { readonly mode: Mode; readonly differences: number } = { mode: 'major', differences: 99 };
  for (const mode of candidates) {
    let accidentals: Key['accidentals'];
    try {
      accidentals = keyOf(tonic, mode).accidentals;
    } catch {
      continue;
    }
    const steps = Object.keys(accidentals) as (keyof typeof accidentals)[];
    const differences = steps.filter((s) => accidentals[s] !== key.accidentals[s]).length;
    if (differences < best.differences) best = { mode, differences };
  }
  return best.mode;
};

/** The last sounding note of the tune: what a tune without a keynote is judged by. */
const lastNoteOf = (score: Score): PitchClass | null => {
  for (const { bar } of barsOf(score).toReversed()) {
    const note = bar.events.findLast((e) => e.kind === 'note');
    if (note?.kind === 'note') return { step: note.pitches[0].step, alter: note.pitches[0].alter };
  }
  return null;
};

/**
 * What keynote and mode do chords under this key go by?
 *
 * The key as written where it names one; the pipe key is A Mixolydian; without a keynote the tune's last note is taken.
 */
export const tonalityOf = (key: Key, score: Score): Tonality => {
  if (key.signature === 'pipes') return PIPES;
  if (key.tonic !== null && key.mode !== null) return { tonic: key.tonic, mode: key.mode };
  const tonic = key.tonic ?? lastNoteOf(score) ?? pitchClass('C');
  return { tonic, mode: nearestMode(key, tonic) };
};

/** How long each of the twelve notes above C sounds in the given bars, in whole notes. */
export const soundingTimes = (score: Score): readonly number[] => {
  const times = new Array<number>(12).fill(0);
  for (const { bar } of barsOf(score)) {
    for (const event of bar.events) {
      if (event.kind !== 'note') continue;
      const chroma = chromaOf(event.pitches[0]);
      times[chroma] = (times[chroma] ?? 0) + toNumber(event.length);
    }
  }
  return times;
};
