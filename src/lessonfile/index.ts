export type { ReadLesson } from './lessonFile.ts';
export { lessonJsonSchema, readLessonFile } from './lessonFile.ts';
export type { LessonProblem } from './readJson.ts';
export type { ReadSet, StoredSet } from './setFile.ts';
export { readSetFile, setJsonSchema, writeSetFile } from './setFile.ts';
export type { ChangedLesson, SettingsChange } from './withSettings.ts';
export { withSettings } from './withSettings.ts';
export type { ReadWords } from './wordsFile.ts';
export { readWordsFile, wordsJsonSchema, writeWordsFile } from './wordsFile.ts';
