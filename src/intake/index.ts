export type { TuneText } from './readTuneFile.ts';
export { readTuneFile, tuneTextIn } from './readTuneFile.ts';
