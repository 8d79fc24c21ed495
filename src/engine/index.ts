// The package's public face: what another program may build on. Nobody inside imports it.
export type { Diagnostic, MidiNumber, Rational, Seconds, Severity, Span, WholeNotes } from '../core/index.ts';
export { placeFinder } from '../core/index.ts';
export type { AwkwardPlace, FoundOrnament, OrnamentKind, StayDown } from '../fiddle/index.ts';
export {
  awkwardPlacesOf,
  bowedBarsOf,
  bowingOf,
  difficultyOf,
  fingeringOf,
  ornamentsOf,
  stayDownsOf,
} from '../fiddle/index.ts';
export type { ChordPlan, PlannedChord } from '../harmony/index.ts';
export { chordPlanOf, withChords } from '../harmony/index.ts';
export type { Lesson, LessonSettings, TrackPlan } from '../lesson/index.ts';
export {
  compareSettings,
  DEFAULT_SETTINGS,
  lessonOf,
  midiSongOf,
  phraseMapOf,
  teachingNotesOf,
  techniqueIndexOf,
  timelineOfTrack,
  trackPlans,
} from '../lesson/index.ts';
export type { AbcBook, EditedAbc, MidiSong, NoteEdit, ReadTune, TextChange } from '../notation/index.ts';
export { editedAbc, readAbc, writeAbc, writeMei, writeMidi, writeMusicXml } from '../notation/index.ts';
export type { PerformSettings, TimedNote, Timeline } from '../perform/index.ts';
export { timelineOf } from '../perform/index.ts';
export type { Bar, Event, Note, Part, Score } from '../score/index.ts';
export { barsOf, notesOf, placedEvents, playedOrder } from '../score/index.ts';
export type { Corner, SetPlan, SetTrack, TuneInSet, TuneSet } from '../sets/index.ts';
export { cornerWords, setOf, setProblems, setTracks, timelineOfSetTrack } from '../sets/index.ts';
export type { Fit, VersionSettings, Versions } from '../versions/index.ts';
export { deriveVersions, fitOf } from '../versions/index.ts';
