import {
  chromaOf,
  type Key,
  keyOf,
  type Mode,
  type Pitch,
  pitchClass,
  pitch as readPitch,
  STEPS,
  scaleOf,
} from '../music/index.ts';

/** Keynotes as fiddlers write them. */
const KEYNOTES = ['C', 'D', 'E', 'F', 'G', 'A', 'B', 'Bb', 'Eb', 'F#'] as const;
/** Modes of dance tunes, commonest first, with what being rarer costs. Ours. */
const COMMON_MODES: readonly (readonly [Mode, number])[] = [
  ['major', 0],
  ['dorian', 0.02],
  ['mixolydian', 0.02],
  ['minor', 0.03],
];
/** What a final on the keynote, and the keynote and fifth sounding much, weigh beside notes of the scale. Ours. */
const FINAL = 0.25;
const KEYNOTE = 0.5;
const FIFTH = 0.2;

/**
 * Which key do the notes lie in?
 * @param notes - semitones with their lengths
 * @param finals - semitones that end parts
 */
export const keyOfNotes = (
  notes: readonly { readonly semitone: number; readonly length: number }[],
  finals: readonly number[],
): Key => {
  const share = new Float64Array(12);
  const total = notes.reduce((sum, n) => sum + n.length, 0) || 1;
  for (const { semitone, length } of notes)
    share[semitone % 12] = (share[semitone % 12] as number) + length / total;
  let [best, most] = [keyOf(pitchClass('D'), 'major'), -Infinity];
  for (const name of KEYNOTES)
    for (const [mode, rarer] of COMMON_MODES) {
      const tonic = pitchClass(name);
      const key = keyOf(tonic, mode);
      const chroma = chromaOf(tonic);
      const inside = scaleOf(key).reduce((sum, p) => sum + (share[chromaOf(p)] as number), 0);
      const ends = finals.filter((f) => f % 12 === chroma).length / Math.max(1, finals.length);
      const score =
        inside +
        FINAL * ends +
        KEYNOTE * (share[chroma] as number) +
        FIFTH * (share[(chroma + 7) % 12] as number) -
        rarer;
      if (score > most) [best, most] = [key, score];
    }
  return best;
};

/** A semitone spelled as the key has it; outside the key as a natural, else as a sharp. */
export const spelled = (semitone: number, key: Key): Pitch => {
  const octave = Math.floor(semitone / 12) - 1;
  const own = STEPS.map((step) => ({ step, alter: key.accidentals[step] })).find(
    (p) => chromaOf(p) === semitone % 12,
  );
  if (own !== undefined) {
    // C flat belongs to the octave above its sound, B sharp to the one below.
    const shift = own.step === 'C' && own.alter < 0 ? 1 : own.step === 'B' && own.alter > 0 ? -1 : 0;
    return { ...own, octave: octave + shift };
  }
  const names = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'] as const;
  return readPitch(`${names[semitone % 12]}${octave}`);
};
