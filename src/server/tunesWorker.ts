import { parentPort, workerData } from 'node:worker_threads';
import { readTunes } from './readTunes.ts';

parentPort?.postMessage(readTunes(workerData as Uint8Array));
