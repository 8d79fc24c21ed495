export type { Lesson, VersionId } from './lesson.ts';
export { lessonOf, tempoOf, VERSION_IDS, VERSION_NAMES } from './lesson.ts';
export type { LessonSettings, Paper } from './settings.ts';
export { DEFAULT_SETTINGS } from './settings.ts';
export { slugOf } from './slug.ts';
export type { TrackChoice, TrackPlan } from './trackPlan.ts';
export { clockTime, TEMPO_NAMES, timelineOfTrack, trackPlans } from './trackPlan.ts';
export type { Words } from './words.ts';
export { barWord, joined, listOfBars, markName, noteValueName } from './words.ts';
