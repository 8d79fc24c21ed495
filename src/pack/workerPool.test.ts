import { expect, test } from 'vitest';
import { type JobOutcome, type PoolJob, runJobs } from './workerPool.ts';

interface TrialJob extends PoolJob {
  readonly does: 'work' | 'tell' | 'fail' | 'hang' | 'crash' | 'exit';
}

// A worker of plain JavaScript: what it does is what the job says.
const WORKER = new URL(
  `data:text/javascript,${encodeURIComponent(`
    import { parentPort, threadId, workerData } from 'node:worker_threads';
    parentPort.on('message', (job) => {
      parentPort.postMessage({ kind: 'alive', fraction: 0.5 });
      if (job.does === 'work') parentPort.postMessage({ kind: 'done', files: [{ path: job.id, bytes: new TextEncoder().encode(workerData) }] });
      if (job.does === 'tell') parentPort.postMessage({ kind: 'done', files: [{ path: String(threadId), bytes: new Uint8Array() }] });
      if (job.does === 'fail') parentPort.postMessage({ kind: 'failed', why: 'no rosin' });
      if (job.does === 'crash') throw new Error('a string broke');
      if (job.does === 'exit') process.exit(4);
    });`)}`,
);

const run = async (jobs: readonly TrialJob[], signal: AbortSignal = new AbortController().signal) => {
  const ends = new Map<string, JobOutcome>();
  const fractions: number[] = [];
  await runJobs(jobs, {
    workerUrl: WORKER,
    workerData: 'ok',
    threads: 2,
    // Long enough for a thread to start on a busy machine.
    patience: 3000,
    signal,
    onEnd: async (job, outcome) => {
      ends.set(job.id, outcome);
    },
    onProgress: (fraction) => fractions.push(fraction),
  });
  return { ends, fractions };
};

const job = (id: string, does: TrialJob['does'], effort = 1, family = ''): TrialJob => ({
  ...{ id, does, effort, family },
});

test('a failed, crashed, stopped or hung job is named, and all the others are done', async () => {
  const { ends, fractions } = await run([
    job('a', 'work', 3),
    job('b', 'fail'),
    job('c', 'crash'),
    job('d', 'exit'),
    job('e', 'hang'),
    job('f', 'work'),
  ]);
  const why = (id: string): string => {
    const outcome = ends.get(id);
    return outcome?.kind === 'failed' ? outcome.why : 'done';
  };
  expect(why('a')).toBe('done');
  expect(why('b')).toBe('no rosin');
  expect(why('c')).toBe('a string broke');
  expect(why('d')).toBe('the work on it stopped without a word');
  expect(why('e')).toMatch(/no sign of life/);
  expect(why('f')).toBe('done');
  expect(fractions.at(-1)).toBeCloseTo(1);
  expect(fractions.every((f, i) => f >= (fractions[i - 1] ?? 0))).toBe(true);
});

test('an abort ends hung work at once and rejects with the reason', async () => {
  const stop = new AbortController();
  setTimeout(() => stop.abort(new Error('enough')), 100);
  const before = Date.now();
  await expect(run([job('a', 'hang'), job('b', 'hang'), job('c', 'hang')], stop.signal)).rejects.toThrow(
    'enough',
  );
  expect(Date.now() - before).toBeLessThan(390);
});

test('what goes wrong when a result is put away ends the run and is passed on', async () => {
  await expect(
    runJobs([job('a', 'work'), job('b', 'work')], {
      workerUrl: WORKER,
      workerData: 'ok',
      threads: 1,
      patience: 2000,
      signal: new AbortController().signal,
      onEnd: () => Promise.reject(new Error('the disk is full')),
      onProgress: () => undefined,
    }),
  ).rejects.toThrow('the disk is full');
});

test('a thread works for one family: it begins where no other is, and starts afresh when its family is done', async () => {
  const { ends } = await run([
    job('s1', 'tell', 9, 'sound'),
    job('s2', 'tell', 8, 'sound'),
    job('s3', 'tell', 7, 'sound'),
    job('s4', 'tell', 6, 'sound'),
    job('d1', 'tell', 1, 'drawing'),
  ]);
  const threadOf = (id: string): number => {
    const outcome = ends.get(id);
    return outcome?.kind === 'done' ? Number(outcome.files[0]?.path) : 0;
  };
  const sound = ['s1', 's2', 's3', 's4'].map(threadOf);
  expect(sound).not.toContain(threadOf('d1'));
  // A third thread is started only for sound, when the drawing is done.
  const threads = [...new Set([...sound, threadOf('d1')])].sort((a, b) => a - b);
  expect(threads.slice(0, 2)).toContain(threadOf('d1'));
});

test('a job goes out completed; one that cannot be completed fails alone', async () => {
  const ends = new Map<string, JobOutcome>();
  await runJobs([job('whole', 'tell', 2), job('without', 'tell', 1)], {
    workerUrl: WORKER,
    workerData: 'ok',
    threads: 1,
    patience: 3000,
    signal: new AbortController().signal,
    completed: (one) =>
      one.id === 'without'
        ? Promise.reject(new Error('the picture cannot be drawn'))
        : Promise.resolve({ ...one, does: 'fail' }),
    onEnd: async (one, outcome) => {
      ends.set(one.id, outcome);
    },
    onProgress: () => undefined,
  });
  expect(ends.get('whole')?.kind).toBe('failed');
  expect(ends.get('without')).toEqual({ kind: 'failed', why: 'the picture cannot be drawn' });
});
