import { type Chord, type Mode, noteAbove } from '../music/index.ts';
import type { Tonality } from './tonality.ts';

/**
 * A triad relative to the keynote, as one number: twice its root's semitones above the keynote, plus one when minor.
 * Twelve roots, two qualities: 0…23.
 */
export type TriadClass = number;

/** How many triad classes there are. */
export const TRIADS = 24;

/** The class of a triad with that root (semitones above the keynote). */
export const triadClass = (root: number, minor: boolean): TriadClass =>
  2 * (((root % 12) + 12) % 12) + (minor ? 1 : 0);
/** Semitones of the class's root above the keynote. */
export const rootOf = (triad: TriadClass): number => triad >> 1;
/** Whether the class is minor. */
export const isMinor = (triad: TriadClass): boolean => triad % 2 === 1;
/** Semitones of the class's third above the keynote. */
export const thirdOf = (triad: TriadClass): number => (rootOf(triad) + (isMinor(triad) ? 3 : 4)) % 12;

/** A chord that a mode uses; `needs`: semitones above the keynote that the tune must sound before the chord is used. */
interface VocabularyEntry {
  readonly triad: TriadClass;
  readonly needs?: number;
}
const major = (root: number, needs?: number): VocabularyEntry =>
  needs === undefined ? { triad: triadClass(root, false) } : { triad: triadClass(root, false), needs };
const minor = (root: number, needs?: number): VocabularyEntry =>
  needs === undefined ? { triad: triadClass(root, true) } : { triad: triadClass(root, true), needs };

/**
 * The chords of each mode. Common practice: major I IV V vi ii; Mixolydian I ♭VII IV v; Dorian i ♭VII IV ♭III v with IV
 * only where the tune has its sixth; minor i ♭VII ♭VI ♭III iv v, with V where the tune raises its seventh; II, III and
 * ♭VII in major where the tune has the foreign note that asks for them. Lydian, Phrygian, Locrian: their own triads.
 * From memory.
 */
const VOCABULARY: Readonly<Record<Mode, readonly VocabularyEntry[]>> = {
  major: [major(0), major(5), major(7), minor(9), minor(2), major(2, 6), major(4, 8), major(10, 10)],
  mixolydian: [major(0), major(10), major(5), minor(7), major(7, 11)],
  dorian: [minor(0), major(10), major(5, 9), major(3), minor(7), major(7, 11)],
  minor: [minor(0), major(10), major(8, 8), major(3), minor(5), minor(7), major(7, 11)],
  lydian: [major(0), major(2), major(7), minor(9), minor(4)],
  phrygian: [minor(0), major(1), major(3), minor(10), minor(5)],
  locrian: [minor(0), major(1), minor(3), minor(5), minor(10)],
};

/**
 * Which triads may go with a tune in this mode?
 * @param sounding - how long each note 0…11 above the keynote sounds in the tune
 */
export const vocabularyOf = (mode: Mode, sounding: readonly number[]): readonly TriadClass[] =>
  VOCABULARY[mode]
    .filter(({ needs }) => needs === undefined || (sounding[needs] ?? 0) > 0)
    .map(({ triad }) => triad);

/** The triads that stand where V stands in major and raised minor: at closes, before the tonic. Common practice. */
const DOMINANTS: Readonly<Partial<Record<Mode, readonly TriadClass[]>>> = {
  mixolydian: [triadClass(10, false), triadClass(7, true)],
  dorian: [triadClass(10, false), triadClass(7, true)],
  minor: [triadClass(10, false), triadClass(7, true)],
  phrygian: [triadClass(1, false), triadClass(10, true)],
};

/** V, as counted in tunes that have it. */
const DOMINANT = triadClass(7, false);

/**
 * Which triad of the counted tunes does this one stand for, as steps and places go?
 *
 * The counted tunes are major and raised minor; in a mode without leading note ♭VII and v do what V does there.
 * @param raised - whether the tune sounds its leading note: then V is there to speak for itself
 */
export const roleOf = (mode: Mode, triad: TriadClass, raised: boolean): TriadClass =>
  !raised && DOMINANTS[mode]?.includes(triad) ? DOMINANT : triad;

/** Letters above the keynote's by which each root 0…11 is spelled: ♭II, ♭III, ♯IV, ♭VI, ♭VII. */
const LETTERS: readonly number[] = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6];

/** The class as a chord with a name; a bare fifth where the third is left out. */
export const chordOf = (triad: TriadClass, tonality: Tonality, bare: boolean): Chord => {
  const root = rootOf(triad);
  const third = isMinor(triad) ? 'minor' : 'major';
  return { root: noteAbove(tonality.tonic, LETTERS[root] ?? 0, root), quality: bare ? 'fifth' : third };
};
