import { compare, type Diagnostic, multiply, rational, type WholeNotes } from '../core/index.ts';
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

/**
 * What speaks against a roll there: an open string, or no time for it.
 * @param running - length of the running note; null where the roll is written out and has its time
 */
export const rollProblems = (note: Note, running: WholeNotes | null): readonly Diagnostic[] => {
  const problems: Diagnostic[] = [];
  if (isOpen(note)) problems.push(openStringProblem('A roll', note.pitches[0]));
  if (running !== null && compare(note.length, multiply(running, rational(2))) < 0) {
    problems.push({
      code: 'roll-too-short',
      severity: 'warning',
      message: `A roll on a note as short as this ${printedName(note.pitches[0])}: there is time for a cut and no more.`,
      hint: 'Write a cut, or put the roll on a crotchet or dotted crotchet.',
    });
  }
  return problems;
};
