export type {
  AbcBook,
  BarSetting,
  EditedAbc,
  NoteEdit,
  ReadBar,
  ReadTune,
  TextChange,
  TransposedAbc,
} from './abc/index.ts';
export {
  editedAbc,
  readAbc,
  readAbcBar,
  readKeyName,
  transposedAbc,
  tuneAlone,
  writeAbc,
  writeAbcBar,
} from './abc/index.ts';
export type { ImportedTune } from './importedTune.ts';
export { elementIdOf } from './mei/elementId.ts';
export type { MeiDocument, MeiHands, MeiStaff, MeiWriting } from './mei/meiDocument.ts';
export { meiWriterOf, writeMei } from './mei/writeMei.ts';
export type { MidiEvent, MidiSong, MidiTrack } from './midi/midiSong.ts';
export { readMidi } from './midi/reading/readMidi.ts';
export { writeMidi } from './midi/writeMidi.ts';
export { readMusicXml } from './musicxml/reading/readMusicXml.ts';
export { writeMusicXml } from './musicxml/writeMusicXml.ts';
export { type XmlElement, xml } from './xml.ts';
export { attributeOf, childrenNamed, elementAt } from './xmlTree.ts';
