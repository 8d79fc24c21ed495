import type { Diagnostic } from '../core/index.ts';
import { FIFTH, midiOf, type Pitch, printedName } from '../music/index.ts';
import type { Note } from '../score/index.ts';
import { type FiddleString, openStringOf, STRINGS, type StringName } from './strings.ts';

/** A tone beside the melody, named. */
export interface ChordOrnament {
  readonly kind: 'drone' | 'laidFinger' | 'unison' | 'doubleStop';
  /** Index of the tone among the note's pitches. */
  readonly tone: number;
  readonly others: readonly [Pitch];
  readonly string: StringName | null;
  readonly problems: readonly Diagnostic[];
}

/** Semitones above its open string that a note can lie at all: two octaves, where the fingerboard ends. Ours. */
const FINGERBOARD = 24;

/** How far apart in semitones above their open strings two stopped notes may be for one hand. Ours: a wide octave. */
const HAND = 6;

/** Semitones above its open string that first position reaches, the fourth finger stretched. */
const FIRST_POSITION = 8;

const canLieOn = (string: FiddleString, midi: number, reach = FINGERBOARD): boolean =>
  midi >= string.midi && midi <= string.midi + reach;

/** Whether two pitches can sound together on neighbouring strings under one hand, no further up than `reach`. */
const fitNeighbours = (a: number, b: number, reach = FINGERBOARD): boolean =>
  STRINGS.some((lower, i) => {
    const upper = STRINGS[i + 1];
    if (upper === undefined) return false;
    return [
      [a, b],
      [b, a],
    ].some(([low = 0, high = 0]) => {
      if (!canLieOn(lower, low, reach) || !canLieOn(upper, high, reach)) return false;
      const stopped = [low - lower.midi, high - upper.midi];
      return stopped.includes(0) || Math.abs((stopped[0] ?? 0) - (stopped[1] ?? 0)) <= HAND;
    });
  });

/** An open string that sounds beside a note of another string, no further up it than `reach`. */
const openBeside = (tone: Pitch, other: Pitch, reach: number): FiddleString | null => {
  const open = openStringOf(tone);
  if (open === null) return null;
  const neighbour = STRINGS.some(
    (s) => Math.abs(s.place - open.place) === 1 && canLieOn(s, midiOf(other), reach),
  );
  return neighbour ? open : null;
};

const droneIn = (main: Pitch, tone: Pitch, reach: number): FiddleString | null =>
  openBeside(tone, main, reach) ?? openBeside(main, tone, reach);

const nameOfTone = (main: Pitch, tone: Pitch): Pick<ChordOrnament, 'kind' | 'string'> => {
  const distance = Math.abs(midiOf(main) - midiOf(tone));
  if (distance === 0) return { kind: 'unison', string: null };
  // A fourth finger on A under the D above it is a double stop: the open A would ask for that D far up its neighbour.
  const stopped = fitNeighbours(midiOf(main), midiOf(tone), FIRST_POSITION);
  const open = droneIn(main, tone, stopped ? FIRST_POSITION : FINGERBOARD);
  if (open !== null) return { kind: 'drone', string: open.name };
  return { kind: distance === FIFTH ? 'laidFinger' : 'doubleStop', string: null };
};

const printed = (at: Pitch): string => `${printedName(at)}${at.octave}`;

const problemsOfTone = (note: Note, tone: Pitch): readonly Diagnostic[] => {
  const [main] = note.pitches;
  if (fitNeighbours(midiOf(main), midiOf(tone))) return [];
  return [
    {
      code: 'chord-on-one-string',
      severity: 'warning',
      message: `${printed(main)} and ${printed(tone)} can't sound together: no two neighbouring strings have them under one hand.`,
      hint: 'Leave one out, or put it an octave elsewhere.',
    },
  ];
};

const tooManyStrings = (note: Note): readonly Diagnostic[] =>
  note.pitches.length <= 2
    ? []
    : [
        {
          code: 'chord-of-three',
          severity: 'warning',
          message: `${note.pitches.length} notes at once: a bow on a fiddle sounds two strings together, not more.`,
          hint: 'Keep the melody and one note beside it.',
        },
      ];

/** What each tone beside the melody is: a drone, a laid-over finger, a unison or a double stop. */
export const chordOrnaments = (note: Note): readonly ChordOrnament[] =>
  note.pitches.slice(1).map((tone, i) => ({
    ...nameOfTone(note.pitches[0], tone),
    tone: i + 1,
    others: [tone],
    problems: [...problemsOfTone(note, tone), ...(i === 0 ? tooManyStrings(note) : [])],
  }));
