import { workerData } from 'node:worker_threads';
import type { PackJob } from './jobs.ts';
import { type JobRoom, roomOf, runJob } from './runJob.ts';
import { serveJobs } from './serveJobs.ts';
import type { PackSource } from './source.ts';

let room: JobRoom | undefined;

serveJobs<PackJob>((job, onProgress) => {
  room ??= roomOf(workerData as PackSource);
  return runJob(job, room, onProgress);
});
