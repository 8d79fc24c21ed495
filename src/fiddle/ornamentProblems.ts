import type { Diagnostic } from '../core/index.ts';
import { midiOf, type Pitch, printedName } from '../music/index.ts';
import type { Note } from '../score/index.ts';
import { openStringOf, STRINGS } from './strings.ts';

const LOWEST = STRINGS[0];
const FOURTH_FINGER = 4;

/** Whether the note would be the open string, where nothing lies below to strike from. */
const isOpen = (note: Note): boolean =>
  openStringOf(note.pitches[0]) !== null && (note.fingers[0] ?? 0) !== FOURTH_FINGER;

const openStringProblem = (what: string, main: Pitch): Diagnostic => {
  const lowest = midiOf(main) === LOWEST.midi;
  return {
    code: 'below-open-string',
    severity: 'warning',
    message: `${what} on ${printedName(main)}: that is an open string, and nothing lies below it to strike.`,
    hint: lowest
      ? 'Play a treble or two cuts there.'
      : 'Take the note with the fourth finger on the string below, or play a treble or two cuts.',
  };
};

/** What speaks against a note's grace notes as written: below an open string no finger can lift and fall back. */
export const graceProblems = (note: Note): readonly Diagnostic[] => {
  const main = note.pitches[0];
  const below = note.graces?.pitches.find((g) => midiOf(g) < midiOf(main));
  const single = note.graces?.pitches.length === 1;
  if (below === undefined || !single || !isOpen(note)) return [];
  return [openStringProblem('A lower grace note', main)];
};

/** What speaks against a roll there: an open string has nothing below it to strike. */
export const openStringRoll = (note: Note): readonly Diagnostic[] =>
  isOpen(note) ? [openStringProblem('A roll', note.pitches[0])] : [];

/** Says that the sign of a roll is taken for a cut, where there is no time for a roll. */
export const tooShortForRoll = (main: Pitch): Diagnostic => ({
  code: 'roll-too-short',
  severity: 'remark',
  message: `The sign of a roll on a note as short as this ${printedName(main)} is taken for a cut: there is no time for more.`,
  hint: 'Write the cut as a grace note, or put the roll on a crotchet or dotted crotchet.',
});
