import { parentPort } from 'node:worker_threads';
import type { FolderJob, MadeFile, WorkerMessage } from './workerPool.ts';

/** Does a job: the bytes of each of its files, in the order of its paths. */
type DoJob<Job> = (job: Job, onProgress: (fraction: number) => void) => Promise<readonly Uint8Array[]>;

/**
 * Makes this thread a worker: it does each job that is posted to it and says how it goes.
 * @param doJob - what it does
 */
export const serveJobs = <Job extends FolderJob>(doJob: DoJob<Job>): void => {
  const port = parentPort;
  if (port === null) throw new Error('serveJobs runs in a worker thread only');
  const say = (message: WorkerMessage): void => port.postMessage(message);
  /** The bytes are handed over, not copied: a track as WAV has thirty million. */
  const handOver = (files: readonly MadeFile[]): void => {
    const whole = files.map(({ path, bytes }) => ({
      path,
      bytes: bytes.byteLength === bytes.buffer.byteLength ? bytes : bytes.slice(),
    }));
    const message: WorkerMessage = { kind: 'done', files: whole };
    port.postMessage(message, [...new Set(whole.map(({ bytes }) => bytes.buffer as ArrayBuffer))]);
  };
  const work = async (job: Job): Promise<void> => {
    try {
      const made = await doJob(job, (fraction) => say({ kind: 'alive', fraction }));
      handOver(
        made.flatMap((bytes, i) => {
          const path = job.paths[i];
          return path === undefined ? [] : [{ path, bytes }];
        }),
      );
    } catch (error) {
      say({ kind: 'failed', why: error instanceof Error ? error.message : String(error) });
    }
  };
  port.on('message', (job: Job) => {
    void work(job);
  });
};
