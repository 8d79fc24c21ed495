export type { AcceptedEntry } from './acceptedOrnaments.ts';
export type { Anchor, BarTable } from './anchors/index.ts';
export type { Audience, AudienceChoice, Group } from './audiences.ts';
export { AUDIENCES, audienceOf, GROUPS, groupWord, isFor } from './audiences.ts';
export { barChoicesOf } from './barChoices.ts';
export { barCounts } from './barCounts.ts';
export { barLabel } from './barLabel.ts';
export type { ComparedBar, Comparison, SettingBar } from './compare/compareSettings.ts';
export { compareSettings } from './compare/compareSettings.ts';
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
export { fingeringOptionsOf } from './handOptions.ts';
export type { AllAttached, NewKeptBar, NewWay } from './keeping.ts';
export {
  attachedOf,
  withKeptBar,
  withoutKeptBar,
  withStayDown,
  withWay,
  withWayChanged,
} from './keeping.ts';
export type { Attached, KeptBar, KeptRemark, KeptState, StoredEvent } from './kept/index.ts';
export { STORED_MARKS, STORED_SIGNS } from './kept/index.ts';
export { keptRemarks } from './keptRemarks.ts';
export type { GroupFit, LessonVersion, NeighbourFit } from './ladder.ts';
export { groupFits, manyVersions, togetherFit, togetherName, versionNamesOf } from './ladder.ts';
export type { Lesson } from './lesson.ts';
export { fullestOf, lessonOf, tempoOf, versionOf } from './lesson.ts';
export type { ParcelPart } from './letter.ts';
export { letterOf } from './letter.ts';
export type { CapoHint } from './maps/capo.ts';
export { capoHintOf, capoWords } from './maps/capo.ts';
export type { FingerDot, FingerMap } from './maps/fingerMap.ts';
export { fingerMapOf, MAP_STRINGS } from './maps/fingerMap.ts';
export { fingerMapRemarks, fingerMapStrings } from './maps/fingerMapWords.ts';
export { fingersBeside, lastRowOf, rowDepth, rowName } from './maps/fingerRows.ts';
export type { MappedBar, PhraseMap } from './maps/phraseMap.ts';
export { phraseMapOf } from './maps/phraseMap.ts';
export { boxWords, phraseMapSummary, stepWords } from './maps/phraseMapWords.ts';
export type { MarkedVersion } from './markedVersion.ts';
export { markedVersion } from './markedVersion.ts';
export type { MidiAbout } from './midiSong.ts';
export { midiSongOf } from './midiSong.ts';
export type {
  BarNote,
  NamedLesson,
  NoteAnchor,
  OrnamentNames,
  OrnamentRemark,
  OwnNote,
  Remark,
  StandingNote,
  StandingWords,
  TeachingNotes,
  Technique,
  TechniqueEntry,
  TechniqueInLesson,
  TechniqueLink,
} from './notes/index.ts';
export {
  ORNAMENT_KINDS,
  TECHNIQUES,
  teachingNotesOf,
  techniqueIndexOf,
  USUAL_ORNAMENT_NAMES,
  webAddressProblem,
} from './notes/index.ts';
export type { HandSign, PracticeData, PracticeOrnament, PracticeVersion, StaySign } from './practiceData.ts';
export { learnTempoOf, percentAt, practiceDataOf, SLOWEST_PERCENT } from './practiceData.ts';
export type { PracticeKey } from './practiceKeys.ts';
export { practiceKeysOf } from './practiceKeys.ts';
export type { PracticeMaps } from './practiceMaps.ts';
export type { PracticeSet } from './practiceSet.ts';
export type { PlannedChapter, RunningOrder, Segment } from './runningOrder.ts';
export { plannedChapters, runningOrderOf } from './runningOrder.ts';
export { runningOrderText, runningOrderVtt } from './runningOrderText.ts';
export type { FiddleManner, LessonSettings, Paper, SoundFormat } from './settings.ts';
export { DEFAULT_SETTINGS, SOUND_FORMATS, STAY_DOWN_SHEETS } from './settings.ts';
export { slugOf } from './slug.ts';
export type { StayDownChoice } from './stayDownChoices.ts';
export { stayDownChoice, stayDownsIn } from './stayDowns.ts';
export type { SuggestionNote } from './suggestionNotes.ts';
export { suggestedKinds, suggestionNotesOf } from './suggestionNotes.ts';
export type { TrackChoice, TrackPerformance, TrackPlan } from './trackPlan.ts';
export {
  clockTime,
  performanceOfTrack,
  TEMPO_NAMES,
  timelineOfTrack,
  timelineOfTune,
  trackLength,
  trackPlans,
  trackProblems,
} from './trackPlan.ts';
export type { OwnRecording, TempoWish, TrackWish } from './trackWish.ts';
export type { PitchedSettings } from './transpose/transposedSettings.ts';
export { transposedSettings } from './transpose/transposedSettings.ts';
export type { Direction } from './transpose/transposition.ts';
export { rangeRemarks, transpositionTo } from './transpose/transposition.ts';
export type { VersionChoice, VersionId, VersionKind } from './versionChoice.ts';
export { LADDER_LENGTH, ladderProblem } from './versionChoice.ts';
export { versionRemarks } from './versionRemarks.ts';
export { wayRemark, wayRemarks } from './wayRemarks.ts';
export { wayEventsOf } from './ways/index.ts';
export type { Words } from './words.ts';
export { capital, dateWords, inSentence, lengthBeside, listOfBars, noteValueName } from './words.ts';
