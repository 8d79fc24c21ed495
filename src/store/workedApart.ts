import { Worker } from 'node:worker_threads';

/**
 * What a module posts as its one message when it runs in a thread of its own; the thread ends with it.
 * @param module - the built module
 * @param workerData - what it is given
 * @param failure - said where the thread ends without a word
 * @throws Error whatever the module throws, or with `failure`
 */
export const workedApart = <T>(module: URL, workerData: unknown, failure: string): Promise<T> =>
  new Promise((resolve, reject) => {
    const worker = new Worker(module, { workerData });
    worker.once('message', (made: T) => {
      resolve(made);
      void worker.terminate();
    });
    worker.once('error', reject);
    worker.once('exit', () => reject(new Error(failure)));
  });
