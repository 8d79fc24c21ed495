import { parentPort, workerData } from 'node:worker_threads';
import { lessonOf } from '../lesson/index.ts';
import { coverOf } from './coverOf.ts';
import { type PackSource, tuneOf } from './source.ts';

const { source, title } = workerData as { readonly source: PackSource; readonly title?: string };
const cover = await coverOf(lessonOf(tuneOf(source).score, source.settings), title);
parentPort?.postMessage(cover);
