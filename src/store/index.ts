export type { KeptFile } from './carryOver.ts';
export type { Staging } from './replaceFolder.ts';
export { stageFolder } from './replaceFolder.ts';
export type { Target } from './target.ts';
export { inspectTarget, MANIFEST_FILE } from './target.ts';
export type { FileBytes, TextFile } from './textFile.ts';
export { readFileBytes, readTextFile, textIn } from './textFile.ts';
export { codeOf, reasonOf, WorldError, worldError } from './worldError.ts';
export { writeWhole } from './writeWhole.ts';
