export type { MidiEvent, MidiSong, MidiTextKind, MidiTrack } from './midi/midiSong.ts';
export type { MidiWriting } from './midi/writeMidi.ts';
export { writeMidi } from './midi/writeMidi.ts';
export type { Dots, NoteValue, TimeRatio, WrittenValue } from './noteValues.ts';
export { denominatorOf, flagsOf, lengthOfValue, NOTE_VALUES, noteValuesOf } from './noteValues.ts';
export type { EventAccidentals, PrintedAccidental } from './printedAccidentals.ts';
export { accidentalsToPrint } from './printedAccidentals.ts';
