import { Worker } from 'node:worker_threads';
import type { SetSource } from './setSource.ts';

/** What is wanted of which corner. */
export interface CornerJob {
  readonly source: SetSource;
  /** The tune before the corner, from 0. */
  readonly index: number;
  readonly what: 'pictures' | 'sound';
}

const workedApart = <T>(job: CornerJob): Promise<T> =>
  new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./cornerWorker.js', import.meta.url), { workerData: job });
    worker.once('message', (made: T) => {
      resolve(made);
      void worker.terminate();
    });
    worker.once('error', reject);
    worker.once('exit', () => reject(new Error('the corner could not be worked out')));
  });

/** `cornerPictures` in a thread of its own. */
export const cornerPicturesApart = (source: SetSource, index: number): Promise<readonly string[]> =>
  workedApart({ source, index, what: 'pictures' });

/** `cornerSound` in a thread of its own. */
export const cornerSoundApart = (source: SetSource, index: number): Promise<Uint8Array | null> =>
  workedApart({ source, index, what: 'sound' });
