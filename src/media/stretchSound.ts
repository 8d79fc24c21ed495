import { Worker } from 'node:worker_threads';
import { hertz } from '../core/index.ts';
import { readEvenly } from '../signal/index.ts';
import type { DecodedSound } from './decoded.ts';
import { stretchedAtOnsets } from './stretchOnsets.ts';
import type { StretchJob } from './stretchWorker.ts';

/** How a recording is to sound. */
export interface StretchOptions {
  /** 1 is as played, 0.5 half as fast. */
  readonly speed: number;
  /** Cents by which it is moved up. */
  readonly cents: number;
  /** Onsets of a single bowed voice, seconds: stretched in time, attacks kept. Without them: any sound, by spectrum. */
  readonly onsets?: readonly number[];
  readonly told?: (share: number) => void;
  readonly signal?: AbortSignal;
}

const inThread = (job: StretchJob, { told, signal }: StretchOptions): Promise<readonly Float32Array[]> =>
  new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./stretchWorker.js', import.meta.url), { workerData: job });
    const stop = (): void => {
      reject(signal?.reason);
      void worker.terminate();
    };
    signal?.addEventListener('abort', stop, { once: true });
    worker.on('message', (word: { done?: number; channels?: readonly Float32Array[] }) => {
      if (word.channels === undefined) told?.(word.done ?? 0);
      else resolve(word.channels);
    });
    worker.on('error', reject);
    worker.on('exit', () => {
      signal?.removeEventListener('abort', stop);
      reject(new Error('The stretching thread stopped early.'));
    });
  });

/**
 * The recording slower (or faster) at the same pitch, and moved by some cents.
 * @throws the signal's reason when stopped
 */
export const stretchSound = async (sound: DecodedSound, options: StretchOptions): Promise<DecodedSound> => {
  const { speed, cents, onsets } = options;
  if (onsets === undefined) {
    const job = { channels: sound.channels, rate: sound.rate, speed, semitones: cents / 100 };
    return { ...sound, channels: await inThread(job, options) };
  }
  // Read faster it is higher and shorter; the stretch makes up for what that took.
  const step = 2 ** (cents / 1200);
  const moved = sound.channels.map((samples) =>
    step === 1 ? samples : readEvenly(samples, { from: 0, step, count: Math.floor(samples.length / step) }),
  );
  const channels = stretchedAtOnsets(moved, sound.rate, {
    speed: speed / step,
    onsets: onsets.map((t) => t / step),
  });
  return { kind: 'sound', rate: hertz(sound.rate), recordedAt: sound.recordedAt, channels };
};
