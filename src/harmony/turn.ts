import { compare, type Rational, toNumber, type WholeNotes } from '../core/index.ts';
import {
  type Chord,
  type ChordQuality,
  chordChromas,
  chromaOf,
  type Key,
  noteAbove,
  type Pitch,
  type PitchClass,
} from '../music/index.ts';

/** What a chord that turns the corner is to the one it leads to. */
export type TurnKind = 'dominant' | 'minorDominant' | 'stepBelow' | 'subdominant';

/** A chord that leads from one tune into the next. */
export interface Turn {
  readonly kind: TurnKind;
  readonly chord: Chord;
  /** It holds from so long before the next tune's first full bar on. */
  readonly before: WholeNotes;
}

/** Where two tunes meet. */
export interface CornerTask {
  /** The next tune's key, and its first chord. */
  readonly key: Key;
  readonly first: Chord;
  /** What the fiddle plays up to the next tune's first full bar: each note from so long before it on. */
  readonly sounding: readonly {
    readonly before: WholeNotes;
    readonly length: WholeNotes;
    readonly pitches: readonly Pitch[];
  }[];
  /** From where a chord may come in: so long before the next tune's first full bar. */
  readonly places: readonly WholeNotes[];
}

/** A chord by what it is to the next tune's first: letters and semitones above its root, and what speaks against it. */
interface Candidate {
  readonly kind: TurnKind;
  readonly letters: number;
  readonly semitones: number;
  readonly quality: ChordQuality;
  readonly cost: number;
}

/**
 * Chords that lead to a first chord, by its mode.
 * @see Common practice: a major tune is reached from its dominant, a Dorian, Mixolydian or minor one as well from the
 * major chord a step below; the weights are ours
 */
const LEADING: Readonly<Record<'major' | 'mixolydian' | 'minor', readonly Candidate[]>> = {
  major: [
    { kind: 'dominant', letters: 4, semitones: 7, quality: 'dominantSeventh', cost: 0 },
    { kind: 'dominant', letters: 4, semitones: 7, quality: 'major', cost: 0.05 },
    { kind: 'subdominant', letters: 3, semitones: 5, quality: 'major', cost: 0.6 },
  ],
  mixolydian: [
    { kind: 'stepBelow', letters: 6, semitones: 10, quality: 'major', cost: 0 },
    { kind: 'minorDominant', letters: 4, semitones: 7, quality: 'minor', cost: 0.1 },
    { kind: 'dominant', letters: 4, semitones: 7, quality: 'dominantSeventh', cost: 0.2 },
    { kind: 'subdominant', letters: 3, semitones: 5, quality: 'major', cost: 0.6 },
  ],
  minor: [
    { kind: 'stepBelow', letters: 6, semitones: 10, quality: 'major', cost: 0 },
    { kind: 'minorDominant', letters: 4, semitones: 7, quality: 'minor', cost: 0.1 },
    { kind: 'dominant', letters: 4, semitones: 7, quality: 'dominantSeventh', cost: 0.25 },
  ],
};

/** How much a note outside the chord costs that sounds all the time: a semitone from a tone of it, or farther. Ours. */
const RUB = { semitone: 1.2, other: 0.25 } as const;
/** A chord that comes in later is heard less: for each whole note. Ours: a half-bar is preferred to a last crotchet. */
const LATE = 0.4;
/** Above this nothing leads on without rubbing: the chord of the tune before stays. Ours. */
const MOST_COST = 0.9;

const modeOf = ({ key, first }: CornerTask): keyof typeof LEADING => {
  const isTonic = key.tonic !== null && chromaOf(key.tonic) === chromaOf(first.root);
  const minor = first.quality === 'minor' || first.quality === 'minorSeventh';
  if (!isTonic) return minor ? 'minor' : 'major';
  switch (key.mode) {
    case 'mixolydian':
      return 'mixolydian';
    case 'dorian':
    case 'minor':
    case 'phrygian':
    case 'locrian':
      return 'minor';
    default:
      return 'major';
  }
};

const rootAbove = (root: PitchClass, { letters, semitones }: Candidate): PitchClass =>
  noteAbove(root, letters, semitones);

/** What rubs between the melody and a chord from `before` on, as a share of that time. */
const rubOf = (chord: Chord, before: Rational, sounding: CornerTask['sounding']): number => {
  const tones = chordChromas(chord);
  const from = toNumber(before);
  let rub = 0;
  for (const note of sounding) {
    const start = Math.min(toNumber(note.before), from);
    const time = Math.max(0, start - (toNumber(note.before) - toNumber(note.length)));
    for (const pitch of note.pitches) {
      const chroma = chromaOf(pitch);
      if (tones.includes(chroma)) continue;
      const near = tones.some((tone) => [1, 11].includes((tone - chroma + 12) % 12));
      rub += (time / from) * (near ? RUB.semitone : RUB.other);
    }
  }
  return rub;
};

/**
 * Which chord turns the corner into the next tune, and from where?
 *
 * Of the chords that lead to the next tune's first one, the one that agrees best with what the fiddle still plays; it
 * comes in as early as that allows. The last chord of the tune before may be it: then it goes on.
 * @returns null where every one would rub
 */
export const turnChordOf = (task: CornerTask): Turn | null => {
  let best: Turn | null = null;
  let least = MOST_COST;
  const longest = Math.max(0, ...task.places.map(toNumber));
  for (const before of task.places.toSorted((a, b) => compare(b, a))) {
    for (const candidate of LEADING[modeOf(task)]) {
      const chord = { root: rootAbove(task.first.root, candidate), quality: candidate.quality };
      const late = (longest - toNumber(before)) * LATE;
      const cost = candidate.cost + late + rubOf(chord, before, task.sounding);
      if (cost < least) [best, least] = [{ kind: candidate.kind, chord, before }, cost];
    }
  }
  return best;
};
