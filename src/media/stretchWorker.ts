import { parentPort, workerData } from 'node:worker_threads';

// The stretching package is made for a browser's audio worklet. In a thread of its own the few names that such a worklet
// has are given to it, and it is run block by block as a browser would.

/** What a thread is asked for. */
export interface StretchJob {
  readonly channels: readonly Float32Array[];
  readonly rate: number;
  readonly speed: number;
  /** Semitones up. */
  readonly semitones: number;
}

interface Processor {
  readonly port: Port;
  readonly inputLatencySeconds: number;
  readonly outputLatencySeconds: number;
  readonly process: (inputs: readonly never[], outputs: readonly (readonly Float32Array[])[]) => boolean;
}

interface Port {
  onmessage: ((event: { readonly data: unknown[] }) => void) | null;
  postMessage: (message: readonly unknown[]) => void;
}

/** Frames of a block. */
const BLOCK = 512;
/** Blocks between two words of how far it is. */
const TELL_EVERY = 400;

const world = globalThis as unknown as Record<string, unknown>;

/** The package's processor, made ready. */
const processorFor = async (job: StretchJob): Promise<Processor> => {
  let made: (new (options: unknown) => Processor) | undefined;
  let ready: () => void = () => undefined;
  const isReady = new Promise<void>((resolve) => {
    ready = resolve;
  });
  world.sampleRate = job.rate;
  world.currentTime = 0;
  world.AudioWorkletProcessor = class {
    readonly port: Port = { onmessage: null, postMessage: ([what]) => what === 'ready' && ready() };
  };
  world.registerProcessor = (_: string, processor: new (options: unknown) => Processor) => {
    made = processor;
  };
  await import('signalsmith-stretch');
  if (made === undefined) throw new Error('The stretching package did not register itself.');
  const processor = new made({ numberOfOutputs: 1, outputChannelCount: [job.channels.length] });
  await isReady;
  return processor;
};

const stretched = async (job: StretchJob): Promise<readonly Float32Array[]> => {
  const processor = await processorFor(job);
  const ask = (...data: unknown[]): void => processor.port.onmessage?.({ data: [0, ...data] });
  const frames = job.channels[0]?.length ?? 0;
  const wanted = Math.ceil(frames / job.speed);
  ask('addBuffers', job.channels);
  ask('schedule', { active: true, input: 0, output: 0, rate: job.speed, semitones: job.semitones });
  const out = job.channels.map(() => new Float32Array(wanted + BLOCK));
  for (let at = 0; at < wanted; at += BLOCK) {
    world.currentTime = at / job.rate;
    processor.process([], [out.map((channel) => channel.subarray(at, at + BLOCK))]);
    if ((at / BLOCK) % TELL_EVERY === 0) parentPort?.postMessage({ done: at / wanted });
  }
  return out.map((channel) => channel.slice(0, wanted));
};

parentPort?.postMessage({ channels: await stretched(workerData as StretchJob) });
