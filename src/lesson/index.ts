export type { AcceptedEntry } from './acceptedOrnaments.ts';
export type { Anchor, BarTable } from './anchors/index.ts';
export { barChoicesOf } from './barChoices.ts';
export type { BarNote, OrnamentNote } from './barNotes.ts';
export { barCounts, barNotesOf, ornamentNotesOf } from './barNotes.ts';
export { bonesRemark } from './bonesRemark.ts';
export {
  CARE_LINE,
  creditOf,
  RIGHTS_LINE,
  sourceOfSetting,
  summaryOf,
  tempoWords,
  titlesOf,
} from './credits.ts';
export { descriptionOf } from './description.ts';
export type { NewKeptBar } from './keeping.ts';
export { attachedOf, withKeptBar, withoutKeptBar } from './keeping.ts';
export type { Attached, KeptBar, KeptRemark, KeptState, StoredEvent } from './kept/index.ts';
export { keptRemarks } from './keptRemarks.ts';
export type { GroupFit, LessonVersion, NeighbourFit } from './ladder.ts';
export { groupFits, manyVersions, togetherFit, togetherName } from './ladder.ts';
export type { Lesson } from './lesson.ts';
export { fullestOf, lessonOf, tempoOf, versionOf } from './lesson.ts';
export type { MidiAbout } from './midiSong.ts';
export { midiSongOf } from './midiSong.ts';
export type { HandSign, PracticeData, PracticeOrnament, PracticeVersion, StaySign } from './practiceData.ts';
export { practiceDataOf } from './practiceData.ts';
export type { FiddleManner, LessonSettings, Paper, SoundFormat } from './settings.ts';
export { DEFAULT_SETTINGS, SOUND_FORMATS } from './settings.ts';
export { slugOf } from './slug.ts';
export type { SuggestionNote } from './suggestionNotes.ts';
export { suggestionNotesOf } from './suggestionNotes.ts';
export type { TrackChoice, TrackPlan } from './trackPlan.ts';
export {
  clockTime,
  TEMPO_NAMES,
  timelineOfTrack,
  timelineOfTune,
  trackPlans,
  trackProblems,
} from './trackPlan.ts';
export type { OwnRecording, TempoWish, TrackWish } from './trackWish.ts';
export type { VersionChoice, VersionId, VersionKind } from './versionChoice.ts';
export { LADDER_LENGTH, ladderProblem } from './versionChoice.ts';
export type { Words } from './words.ts';
export { capital, dateWords, inSentence, lengthBeside, listOfBars, noteValueName } from './words.ts';
