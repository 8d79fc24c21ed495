import { parentPort, workerData } from 'node:worker_threads';
import { cornerPictures, cornerSound } from './corners.ts';
import type { CornerJob } from './cornersApart.ts';
import { setOfSource } from './setSource.ts';

const { source, index, what } = workerData as CornerJob;
const set = setOfSource(source);
parentPort?.postMessage(await (what === 'sound' ? cornerSound(set, index) : cornerPictures(set, index)));
