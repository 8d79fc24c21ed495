export type { Chapter } from './chapter.ts';
export { chapterLines, vttOf } from './chapter.ts';
export { countWord } from './countWord.ts';
export type { Diagnostic, Place, Severity, Span } from './diagnostic.ts';
export { placeFinder } from './diagnostic.ts';
export type { Random } from './random.ts';
export { randomFrom } from './random.ts';
export type { Rational } from './rational.ts';
export {
  add,
  compare,
  divide,
  equals,
  floorOf,
  formatRational,
  isLess,
  isMultipleOf,
  minOf,
  multiply,
  parseRational,
  rational,
  subtract,
  sum,
  toNumber,
  ZERO,
} from './rational.ts';
export type { Cents, Decibels, Hertz, MidiNumber, Seconds, WholeNotes } from './units.ts';
export {
  asWholeNotes,
  cents,
  decibels,
  hertz,
  hertzOfMidi,
  midiNumber,
  parseWholeNotes,
  seconds,
  wholeNotes,
} from './units.ts';
