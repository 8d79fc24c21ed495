/** Notes that are fewer would be found in every tune. Ours. */
const FEWEST = 4;

/** Semitones of the plain letters above C. */
const LETTERS: Readonly<Record<string, number>> = { c: 0, d: 2, e: 4, f: 5, g: 7, a: 9, b: 11 };
const SHARPS = 'fcgdaeb';
/** Key signatures that typed notes may be meant in, in fifths, those that fiddlers play in most first. Ours. */
const SIGNATURES = [1, 2, 0, 3, -1, -2, 4, -3, 5, -4];

interface TypedNote {
  readonly letter: string;
  /** Semitones from the plain letter; null: as the key has it. */
  readonly alter: number | null;
  /** Octaves above the one that starts on middle C. */
  readonly octave: number;
}

const NOTE = /([_^=]?)([A-Ga-g])([♯♭#]?)([,']*)/g;
const ALTERS: Readonly<Record<string, number>> = { _: -1, '♭': -1, '^': 1, '♯': 1, '#': 1, '=': 0 };

const octaveOf = (letter: string, marks: string): number =>
  (letter === letter.toLowerCase() ? 1 : 0) +
  [...marks].reduce((sum, mark) => sum + (mark === "'" ? 1 : -1), 0);

const readNotes = (words: string): readonly TypedNote[] => {
  const left = words.replace(NOTE, '').replace(/[\s|:/\d-]/g, '');
  if (left !== '') return [];
  return [...words.matchAll(NOTE)].map(([, before = '', letter = '', after = '', marks = '']) => ({
    letter: letter.toLowerCase(),
    alter: ALTERS[before] ?? ALTERS[after] ?? null,
    octave: octaveOf(letter, marks),
  }));
};

const alterIn = (letter: string, signature: number): number => {
  const place = SHARPS.indexOf(letter);
  if (signature > 0) return place < signature ? 1 : 0;
  return 6 - place < -signature ? -1 : 0;
};

const midiIn = ({ letter, alter, octave }: TypedNote, signature: number): number =>
  60 + 12 * octave + (LETTERS[letter] ?? 0) + (alter ?? alterIn(letter, signature));

/** The next note where it is nearest, for letters that were typed without thought of octaves. */
const nearest = (notes: readonly number[]): readonly number[] => {
  const found: number[] = [];
  for (const note of notes) {
    const last = found.at(-1);
    if (last === undefined) found.push(note);
    else {
      const up = (((note - last) % 12) + 12) % 12;
      found.push(last + (up > 6 ? up - 12 : up));
    }
  }
  return found;
};

/** Steps from note to note as text, one character each, so that a stretch is found as a text in a text. */
export const stepsOf = (notes: readonly number[]): string =>
  notes
    .slice(1)
    .map((note, i) => String.fromCharCode(200 + note - (notes[i] ?? note)))
    .join('');

/** Steps that typed notes may mean, and the first note's places in the octave where they are played as typed. */
export interface NotePattern {
  readonly steps: string;
  /** 0 is C. */
  readonly first: ReadonlySet<number>;
}

/**
 * Reads notes that were typed to find a tune: "GABd", "G A B d", "g a b d".
 *
 * They are read in every usual key, as ABC with its octaves and, where all letters are large or all small, each next
 * note where it is nearest.
 * @returns what to look for, the likeliest first; none where the words are not notes, or too few
 */
export const typedNotes = (words: string): readonly NotePattern[] => {
  const notes = readNotes(words);
  if (notes.length < FEWEST) return [];
  const oneOctave = new Set(notes.map(({ octave }) => octave)).size === 1;
  const patterns = new Map<string, Set<number>>();
  for (const signature of SIGNATURES) {
    const asWritten = notes.map((note) => midiIn(note, signature));
    for (const midi of oneOctave ? [asWritten, nearest(asWritten)] : [asWritten]) {
      const steps = stepsOf(midi);
      const first = patterns.get(steps) ?? new Set();
      patterns.set(steps, first.add((((midi[0] ?? 0) % 12) + 12) % 12));
    }
  }
  return [...patterns].map(([steps, first]) => ({ steps, first }));
};
