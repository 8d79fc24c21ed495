import { parentPort } from 'node:worker_threads';
import { type LookOrder, lookThrough } from './lookThrough.ts';

parentPort?.on('message', (order: LookOrder) => {
  lookThrough(order).then(
    (looked) => parentPort?.postMessage(looked),
    // A lesson that breaks the program has nothing to list; its own page says what is wrong.
    () => parentPort?.postMessage({ id: order.id, techniques: [], changes: [] }),
  );
});
