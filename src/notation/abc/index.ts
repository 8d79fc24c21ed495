export type { AbcBook } from './book.ts';
export { readAbc } from './book.ts';
export type { ReadTune } from './readTune.ts';
export { writeAbc } from './writeAbc.ts';
