import { asWholeNotes, divide, rational, type WholeNotes, wholeNotes } from '../core/index.ts';
import { barLengthOf, DANCES, type Dance, danceOf, type Metre } from '../music/index.ts';
import { fieldsOf, runningNoteOf, type Score } from '../score/index.ts';

/** A bar of two crotchets that runs in semiquavers: `M:2/4`, where the whole tune moves at half the printed values. */
const runsInSemiquavers = (dance: Dance, metre: Metre): boolean =>
  metre.kind === 'measured' && metre.count === 2 && metre.unit === 4 && dance.runningNote.den > 8;

/**
 * How long is the note that runs in this dance as it is written here: a quaver nearly always?
 *
 * A dotted hornpipe has hardly an even quaver in it, so counting lengths would answer "semiquaver"; what the dance has
 * to its beat (a reel four, a hornpipe two, a jig three) answers right. A tune in 2/4 that runs in semiquavers says so.
 */
export const runningUnitOf = (dance: Dance, metre: Metre): WholeNotes => {
  const usual = DANCES[dance.id];
  if (dance.beat.den === 4 && runsInSemiquavers(dance, metre)) return wholeNotes(1, 16);
  if (dance.beat.num === 3) return asWholeNotes(divide(dance.beat, rational(3)));
  const perBeat = divide(usual.beat, usual.runningNote);
  return asWholeNotes(divide(dance.beat, perBeat.num === 3 || perBeat.den !== 1 ? rational(2) : perBeat));
};

/** The dance of a tune by its `R:` field or metre, for rooms that need no more than its beat and running note. */
export const danceOfScore = (score: Score): Dance =>
  danceOf(fieldsOf(score, 'R')[0], score.metre, runningNoteOf(score)).dance;

/** Whether bars have an odd number of beats (3/4, 9/8, 3/2): then every second one starts with an up-bow as a rule. */
export const hasOddBeats = (score: Score): boolean => {
  const length = barLengthOf(score.metre);
  return length !== null && divide(length, danceOfScore(score).beat).num % 2 === 1;
};
