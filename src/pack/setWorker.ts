import { workerData } from 'node:worker_threads';
import { runSetJob, type SetRoom, setRoomOf } from './runSetJob.ts';
import { serveJobs } from './serveJobs.ts';
import type { SetJob } from './setJobs.ts';
import type { SetSource } from './setSource.ts';

let room: SetRoom | undefined;

serveJobs<SetJob>((job, onProgress) => {
  room ??= setRoomOf(workerData as SetSource);
  return runSetJob(job, room, onProgress);
});
