export type { AbcBook, ReadTune } from './abc/index.ts';
export { readAbc, writeAbc } from './abc/index.ts';
export { elementIdOf } from './mei/elementId.ts';
export type { MeiDocument, MeiStaff, MeiWriting } from './mei/meiDocument.ts';
export { meiWriterOf, writeMei } from './mei/writeMei.ts';
export type { MidiEvent, MidiSong, MidiTrack } from './midi/midiSong.ts';
export { writeMidi } from './midi/writeMidi.ts';
export { writeMusicXml } from './musicxml/writeMusicXml.ts';
