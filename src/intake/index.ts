export type { TuneText } from './readTuneFile.ts';
export { readTuneFile } from './readTuneFile.ts';
