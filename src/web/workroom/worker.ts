// The workroom: a thread in which the lesson is worked out and engraved, so that the page never waits for it.
import { ladderReport, lessonReport, lineMemory, workedLesson } from './lessonWork.ts';
import type { WorkOrder, WorkReport } from './messages.ts';

const scope = globalThis as unknown as {
  onmessage: ((event: MessageEvent<WorkOrder>) => void) | null;
  postMessage: (message: WorkReport) => void;
};

/** What playing needs is worked out when nobody has typed for so long, milliseconds. Ours. */
const QUIET = 180;

const travelling = lineMemory();
let waiting: WorkOrder | null = null;
let working = false;
let later: ReturnType<typeof setTimeout> | undefined;

const work = async (order: WorkOrder): Promise<void> => {
  const began = performance.now();
  const worked = workedLesson(order);
  if (worked.kind === 'nothing') {
    scope.postMessage({ ...worked, job: order.job });
    return;
  }
  const report = await ladderReport(order, worked, travelling);
  scope.postMessage({ ...report, took: performance.now() - began });
  later = setTimeout(() => scope.postMessage(lessonReport(order.job, worked.lesson)), QUIET);
};

/** Only the newest order counts: what was asked before it is out of date. */
const next = async (): Promise<void> => {
  working = true;
  while (waiting !== null) {
    const order = waiting;
    waiting = null;
    try {
      await work(order);
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error);
      scope.postMessage({ kind: 'nothing', job: order.job, problems: [], message });
    }
    // Lets orders in that have come meanwhile.
    await new Promise((resolve) => setTimeout(resolve));
  }
  working = false;
};

scope.onmessage = ({ data }) => {
  waiting = data;
  clearTimeout(later);
  if (!working) void next();
};
