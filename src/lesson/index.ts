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
export type { Lesson, VersionId } from './lesson.ts';
export { lessonOf, tempoOf, VERSION_IDS, VERSION_NAMES } from './lesson.ts';
export type { MidiAbout } from './midiSong.ts';
export { midiSongOf } from './midiSong.ts';
export type { LessonSettings, Paper } from './settings.ts';
export { DEFAULT_SETTINGS } from './settings.ts';
export { slugOf } from './slug.ts';
export type { TrackChoice, TrackPlan } from './trackPlan.ts';
export { clockTime, TEMPO_NAMES, timelineOfTrack, timelineOfTune, trackPlans } from './trackPlan.ts';
export type { Words } from './words.ts';
export { capital, dateWords, listOfBars, noteValueName } from './words.ts';
