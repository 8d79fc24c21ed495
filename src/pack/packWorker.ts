import { parentPort, workerData } from 'node:worker_threads';
import { lessonOf } from '../lesson/index.ts';
import type { PackJob } from './jobs.ts';
import { type JobRoom, runJob } from './runJob.ts';
import { type PackSource, tuneOf } from './source.ts';
import type { WorkerMessage } from './workerPool.ts';

const port = parentPort;
if (port === null) throw new Error('packWorker is started as a worker thread only');

const say = (message: WorkerMessage): void => port.postMessage(message);

const source = workerData as PackSource;
let room: JobRoom | undefined;

const work = async (job: PackJob): Promise<void> => {
  try {
    room ??= { source, lesson: lessonOf(tuneOf(source).score, source.settings) };
    const bytes = await runJob(job, room, (fraction) => say({ kind: 'alive', fraction }));
    const [path] = job.paths;
    say({ kind: 'done', files: path === undefined ? [] : [{ path, bytes }] });
  } catch (error) {
    say({ kind: 'failed', why: error instanceof Error ? error.message : String(error) });
  }
};

port.on('message', (job: PackJob) => {
  void work(job);
});
