export type { ReadLesson } from './lessonFile.ts';
export { lessonJsonSchema, readLessonFile } from './lessonFile.ts';
export type { Staging, Target } from './replaceFolder.ts';
export { inspectTarget, MANIFEST_FILE, stageFolder, writeWhole } from './replaceFolder.ts';
export type { TextFile } from './textFile.ts';
export { readTextFile } from './textFile.ts';
export { WorldError, worldError } from './worldError.ts';
