import { type Alter, chromaOf, type PitchClass, printedName, STEPS, type Step, stepIndex } from './pitch.ts';

/** The seven modes; Ionian is major and Aeolian minor. */
export const MODES = ['major', 'minor', 'mixolydian', 'dorian', 'phrygian', 'lydian', 'locrian'] as const;
/** A mode. */
export type Mode = (typeof MODES)[number];

/**
 * What a `K:` says: the accidentals in force on every letter, and the keynote where there is one.
 *
 * `signature: 'explicit'` prints just its accidentals; `'none'` prints none; `'pipes'` is the Highland pipe key.
 */
export interface Key {
  readonly tonic: PitchClass | null;
  readonly mode: Mode | null;
  /** Accidental of each letter, 0 where natural. */
  readonly accidentals: Readonly<Record<Step, Alter>>;
  readonly signature: 'mode' | 'explicit' | 'none' | 'pipes';
}

/** Sharps (positive) or flats that a mode adds to the major key of the same keynote. Source: ABC standard 2.1, section 3.1.14. */
const MODE_SHIFT: Readonly<Record<Mode, number>> = {
  major: 0,
  minor: -3,
  mixolydian: -1,
  dorian: -2,
  phrygian: -4,
  lydian: 1,
  locrian: -5,
};
const SHARP_ORDER = ['F', 'C', 'G', 'D', 'A', 'E', 'B'] as const satisfies readonly Step[];
/** Place of each natural in the circle of fifths, C = 0. */
const FIFTHS: Readonly<Record<Step, number>> = { F: -1, C: 0, G: 1, D: 2, A: 3, E: 4, B: 5 };

/** Sharps (positive) or flats of the plain signature of a keynote and mode; beyond ±7 in keys nobody prints. */
export const fifthsOf = (tonic: PitchClass, mode: Mode): number =>
  FIFTHS[tonic.step] + 7 * tonic.alter + MODE_SHIFT[mode];

/**
 * The accidentals of a plain signature.
 * @param fifths - sharps (positive) or flats, −7…7
 * @throws RangeError outside that
 */
export const accidentalsOf = (fifths: number): Readonly<Record<Step, Alter>> => {
  if (!Number.isInteger(fifths) || Math.abs(fifths) > 7)
    throw new RangeError(`accidentalsOf(${fifths}): −7 to 7`);
  const result: Record<Step, Alter> = { C: 0, D: 0, E: 0, F: 0, G: 0, A: 0, B: 0 };
  const order = fifths > 0 ? SHARP_ORDER : SHARP_ORDER.toReversed();
  for (const step of order.slice(0, Math.abs(fifths))) result[step] = fifths > 0 ? 1 : -1;
  return result;
};

/**
 * The key of a keynote and mode.
 * @throws RangeError when it would need more than seven sharps or flats
 * @example keyOf({ step: 'A', alter: 0 }, 'dorian') // one sharp: F
 */
export const keyOf = (tonic: PitchClass, mode: Mode): Key => ({
  tonic,
  mode,
  accidentals: accidentalsOf(fifthsOf(tonic, mode)),
  signature: 'mode',
});

/** The key with so many sharps (positive) or flats in a mode; null where its keynote would need two of either. */
export const keyOfFifths = (fifths: number, mode: Mode): Key | null => {
  for (const step of STEPS) {
    for (const alter of [0, 1, -1] as const) {
      if (fifthsOf({ step, alter }, mode) === fifths) return keyOf({ step, alter }, mode);
    }
  }
  return null;
};

/** No signature and no keynote: `K:none`. */
export const NO_KEY: Key = { tonic: null, mode: null, accidentals: accidentalsOf(0), signature: 'none' };

/**
 * Sharps (positive) or flats, when the accidentals are a plain signature; null when they are a mixture.
 */
export const plainFifthsOf = (key: Key): number | null => {
  for (let fifths = -7; fifths <= 7; fifths += 1) {
    const plain = accidentalsOf(fifths);
    if (STEPS.every((step) => plain[step] === key.accidentals[step])) return fifths;
  }
  return null;
};

/** The scale's seven notes from the keynote up (from the first letter, where there is no keynote). */
export const scaleOf = (key: Key): readonly PitchClass[] => {
  const first = key.tonic === null ? 0 : stepIndex(key.tonic.step);
  return STEPS.map((_, i) => {
    const step = STEPS[(first + i) % 7] as Step;
    return { step, alter: key.accidentals[step] };
  });
};

/** Degree of a note in the key, 1…7 by letter from the keynote; null without a keynote. */
export const degreeOf = (key: Key, note: PitchClass): number | null =>
  key.tonic === null ? null : ((stepIndex(note.step) - stepIndex(key.tonic.step) + 7) % 7) + 1;

/** Whether the note belongs to the key as spelled. */
export const isInKey = (key: Key, note: PitchClass): boolean => key.accidentals[note.step] === note.alter;

/** Semitones of a note above the keynote, 0…11 (above C without a keynote). */
export const semitonesAboveTonic = (key: Key, note: PitchClass): number =>
  (chromaOf(note) - (key.tonic === null ? 0 : chromaOf(key.tonic)) + 12) % 12;

const MODE_NAMES: Readonly<Record<Mode, string>> = {
  major: 'major',
  minor: 'minor',
  mixolydian: 'Mixolydian',
  dorian: 'Dorian',
  phrygian: 'Phrygian',
  lydian: 'Lydian',
  locrian: 'Locrian',
};

/** "A Dorian", "B♭ major", "no key". */
export const keyName = (key: Key): string => {
  if (key.signature === 'pipes') return 'Highland pipe key';
  if (key.tonic === null || key.mode === null) return 'no key';
  return `${printedName(key.tonic)} ${MODE_NAMES[key.mode]}`;
};
