import { workedApart } from '../store/index.ts';
import { readTunes, type TunesRead } from './readTunes.ts';

/** Files of so many bytes take long enough to read that everybody else would wait. Ours. */
const LONG = 100_000;

/**
 * What the bytes of a file of tunes hold; a tune book is read in a thread of its own, so that the server goes on answering.
 * @throws Error when the thread ends early
 */
export const tunesReadApart = (bytes: Uint8Array): Promise<TunesRead> => {
  if (bytes.length < LONG) return Promise.resolve(readTunes(bytes));
  return workedApart(new URL('./tunesWorker.js', import.meta.url), bytes, 'the tune book could not be read');
};
