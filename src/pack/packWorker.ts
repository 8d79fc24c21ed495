import { parentPort, workerData } from 'node:worker_threads';
import type { PackJob } from './jobs.ts';
import { type JobRoom, roomOf, runJob } from './runJob.ts';
import type { PackSource } from './source.ts';
import type { MadeFile, WorkerMessage } from './workerPool.ts';

const port = parentPort;
if (port === null) throw new Error('packWorker is started as a worker thread only');

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

const source = workerData as PackSource;
let room: JobRoom | undefined;

const work = async (job: PackJob): Promise<void> => {
  try {
    room ??= roomOf(source);
    const made = await runJob(job, room, (fraction) => say({ kind: 'alive', fraction }));
    const files = made.flatMap((bytes, i) => {
      const path = job.paths[i];
      return path === undefined ? [] : [{ path, bytes }];
    });
    handOver(files);
  } catch (error) {
    say({ kind: 'failed', why: error instanceof Error ? error.message : String(error) });
  }
};

port.on('message', (job: PackJob) => {
  void work(job);
});
