export type { AbcBook } from './book.ts';
export { readAbc } from './book.ts';
export type { BarSetting, ReadBar } from './oneBar.ts';
export { readAbcBar, writeAbcBar } from './oneBar.ts';
export type { ReadTune } from './readTune.ts';
export { tuneAlone } from './tuneAlone.ts';
export { writeAbc } from './writeAbc.ts';
