import { Worker } from 'node:worker_threads';

/** One piece of work for a worker thread: a value that can be cloned. */
export interface PoolJob {
  /** Unique among the jobs of one run. */
  readonly id: string;
  /** Expected effort relative to the other jobs, above 0: orders the work and drives the time left. */
  readonly effort: number;
  /**
   * Jobs of one family need the same heavy things, which a thread keeps as long as it works: a thread takes jobs of one
   * family only, and another one starts afresh for the next.
   */
  readonly family: string;
}

/** One piece of a folder that is built: the files that it makes, relative to the folder, and what it is in words. */
export interface FolderJob extends PoolJob {
  readonly paths: readonly string[];
  readonly what: string;
  /** The PNG picture that a track carries: it comes with the job when it is given out. */
  readonly cover?: Uint8Array;
}

/** A file that a job made, its path relative to the pack's folder. */
export interface MadeFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** What a worker says while at a job. */
export type WorkerMessage =
  | { readonly kind: 'alive'; readonly fraction: number }
  | { readonly kind: 'done'; readonly files: readonly MadeFile[] }
  | { readonly kind: 'failed'; readonly why: string };

/** How a job ended. */
export type JobOutcome =
  | { readonly kind: 'done'; readonly files: readonly MadeFile[] }
  | { readonly kind: 'failed'; readonly why: string };

/** How to run the jobs. */
export interface PoolOptions<Job extends PoolJob> {
  /** The worker's module; it answers each posted job with `WorkerMessage`s, the last one `done` or `failed`. */
  readonly workerUrl: URL;
  /** Given to every worker at its start. */
  readonly workerData: unknown;
  /** A job with what several jobs share, made once for all threads; asked when the job is given out. Default: the job. */
  readonly completed?: (job: Job) => Promise<Job>;
  /** How many threads, from 1. */
  readonly threads: number;
  /** A job that says nothing for so long is ended, in milliseconds. */
  readonly patience: number;
  /** Stops everything; the run then rejects with the signal's reason. */
  readonly signal: AbortSignal;
  /** Called when a job ends, one call at a time; the next job of that worker waits for it. */
  readonly onEnd: (job: Job, outcome: JobOutcome) => Promise<void>;
  /** Called as work goes on, with the share of all effort done, 0…1. */
  readonly onProgress: (fraction: number, job: Job) => void;
}

/**
 * Megabytes of values that a thread may hold: a lesson's sheets need a tenth. With less to fill, waste is cleared away
 * earlier. Ours: by measuring.
 */
const HEAP = { maxOldGenerationSizeMb: 512, maxYoungGenerationSizeMb: 24 } as const;

const asError = (error: unknown): Error => (error instanceof Error ? error : new Error(String(error)));

/** Runs one job on one worker; a worker that failed hard must not be used again (`spent`). */
const runOn = <Job extends PoolJob>(
  worker: Worker,
  job: Job,
  options: PoolOptions<Job>,
  onAlive: (fraction: number) => void,
): Promise<{ readonly outcome: JobOutcome; readonly spent: boolean }> =>
  new Promise((resolve) => {
    let timer: NodeJS.Timeout | undefined;
    const finish = (outcome: JobOutcome, spent: boolean): void => {
      clearTimeout(timer);
      worker.off('message', onMessage);
      worker.off('error', onError);
      worker.off('exit', onExit);
      resolve({ outcome, spent });
    };
    const wait = (): void => {
      clearTimeout(timer);
      timer = setTimeout(
        () =>
          finish(
            {
              kind: 'failed',
              why: `gave no sign of life for ${Math.round(options.patience / 1000)} seconds and was ended`,
            },
            true,
          ),
        options.patience,
      );
    };
    const onMessage = (message: WorkerMessage): void => {
      if (message.kind === 'alive') {
        wait();
        onAlive(message.fraction);
      } else finish(message, false);
    };
    const onError = (error: unknown): void => finish({ kind: 'failed', why: asError(error).message }, true);
    const onExit = (): void => finish({ kind: 'failed', why: 'the work on it stopped without a word' }, true);
    worker.on('message', onMessage);
    worker.on('error', onError);
    worker.on('exit', onExit);
    wait();
    worker.postMessage(job);
  });

/** A thread's worker and the family whose jobs it does. */
interface Crew {
  readonly worker: Worker;
  readonly family: string;
}

/** The jobs that wait, greatest effort first, and who is at what. */
const queueOf = <Job extends PoolJob>(jobs: readonly Job[]) => {
  const waiting = [...jobs].sort((a, b) => b.effort - a.effort);
  const threadsAt = new Map<string, number>();
  const count = (family: string, by: number): void => {
    threadsAt.set(family, (threadsAt.get(family) ?? 0) + by);
  };
  return {
    /** The next job for a thread: of its own family, else of one that no thread is at, else any. */
    next: (own: string | null): Job | undefined => {
      if (own !== null) count(own, -1);
      const place = [
        waiting.findIndex(({ family }) => family === own),
        waiting.findIndex(({ family }) => (threadsAt.get(family) ?? 0) === 0),
        0,
      ].find((i) => i >= 0);
      const [job] = waiting.splice(place ?? 0, 1);
      if (job !== undefined) count(job.family, 1);
      return job;
    },
    clear: (): void => {
      waiting.length = 0;
    },
  };
};

/**
 * Runs jobs on worker threads, the greatest effort first; a job that fails or hangs does not stop the others.
 * @throws the signal's reason when it is aborted; what `onEnd` throws (after all workers have been stopped)
 */
export const runJobs = async <Job extends PoolJob>(
  jobs: readonly Job[],
  options: PoolOptions<Job>,
): Promise<void> => {
  const queue = queueOf(jobs);
  const complete = options.completed ?? ((job: Job) => Promise.resolve(job));
  const total = jobs.reduce((all, job) => all + job.effort, 0);
  const doneOf = new Map<string, number>();
  const workers = new Set<Worker>();
  let ending: Promise<void> = Promise.resolve();
  let failure: { readonly error: unknown } | null = null;

  const report = (job: Job, fraction: number): void => {
    doneOf.set(job.id, job.effort * Math.min(1, fraction));
    let done = 0;
    for (const part of doneOf.values()) done += part;
    options.onProgress(total === 0 ? 1 : done / total, job);
  };
  const start = (): Worker => {
    const { workerUrl, workerData } = options;
    const worker = new Worker(workerUrl, { workerData, resourceLimits: HEAP });
    workers.add(worker);
    return worker;
  };
  const attempt = async (worker: Worker, job: Job): ReturnType<typeof runOn> => {
    try {
      return await runOn(worker, await complete(job), options, (f) => report(job, f));
    } catch (error) {
      return { outcome: { kind: 'failed', why: asError(error).message }, spent: false };
    }
  };
  const stop = async (worker: Worker): Promise<void> => {
    workers.delete(worker);
    await worker.terminate();
  };
  const thread = async (): Promise<void> => {
    let crew: Crew | null = null;
    let family: string | null = null;
    try {
      for (let job = queue.next(family); job !== undefined && failure === null; job = queue.next(family)) {
        const current = job;
        family = current.family;
        if (crew !== null && crew.family !== family) {
          await stop(crew.worker);
          crew = null;
        }
        crew ??= { worker: start(), family };
        const { outcome, spent } = await attempt(crew.worker, current);
        if (options.signal.aborted) return;
        if (spent) {
          await stop(crew.worker);
          crew = null;
        }
        ending = ending.then(() => options.onEnd(current, outcome));
        await ending;
        report(current, 1);
      }
    } catch (error) {
      failure ??= { error };
    } finally {
      if (crew !== null) await stop(crew.worker);
    }
  };
  const onAbort = (): void => {
    queue.clear();
    for (const worker of workers) void worker.terminate();
  };
  options.signal.addEventListener('abort', onAbort);
  try {
    options.signal.throwIfAborted();
    await Promise.all(Array.from({ length: Math.max(1, Math.min(options.threads, jobs.length)) }, thread));
    options.signal.throwIfAborted();
  } finally {
    options.signal.removeEventListener('abort', onAbort);
    await Promise.all([...workers].map((w) => w.terminate()));
  }
  if (failure !== null) throw (failure as { readonly error: unknown }).error;
};
