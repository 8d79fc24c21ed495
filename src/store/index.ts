export type { ReadLesson } from './lessonFile.ts';
export { LESSON_VERSION, lessonJsonSchema, readLessonFile } from './lessonFile.ts';
export type { Staging, Target } from './replaceFolder.ts';
export { inspectTarget, MANIFEST_FILE, stageFolder, writeWhole } from './replaceFolder.ts';
export type { TextFile } from './textFile.ts';
export { LARGEST_TEXT_BYTES, readTextFile } from './textFile.ts';
export { reasonOf, WorldError, worldError } from './worldError.ts';
