export type { Dots, NoteValue, TimeRatio, WrittenValue } from './noteValues.ts';
export { denominatorOf, flagsOf, lengthOfValue, NOTE_VALUES, noteValuesOf } from './noteValues.ts';
export type { EventAccidentals, PrintedAccidental } from './printedAccidentals.ts';
export { accidentalsToPrint } from './printedAccidentals.ts';
