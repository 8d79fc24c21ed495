// What runs on the sound thread: an audio worklet where there is one, else a worker that is asked for pieces. One file for
// both, since a page without a network carries its threads as text.
import { engineOf, type FromThread, PROCESSOR, type ToThread } from './thread.ts';

interface WorkletScope {
  readonly sampleRate: number;
  readonly currentFrame: number;
  readonly AudioWorkletProcessor: new () => { readonly port: MessagePort };
  readonly registerProcessor: (name: string, processor: unknown) => void;
}

const scope = globalThis as unknown as Partial<WorkletScope>;

const asWorklet = (worklet: WorkletScope): void => {
  class Player extends worklet.AudioWorkletProcessor {
    readonly engine = engineOf((message) => this.port.postMessage(message));

    constructor() {
      super();
      this.port.onmessage = ({ data }: MessageEvent<ToThread>) => this.engine.hear(data);
    }

    process(_inputs: unknown, [output]: readonly (readonly Float32Array[])[]): boolean {
      const [left, right] = output ?? [];
      if (left === undefined) return true;
      this.engine.fill(left, right ?? new Float32Array(left.length), worklet.currentFrame);
      return true;
    }
  }
  worklet.registerProcessor(PROCESSOR, Player);
};

const asWorker = (): void => {
  const worker = globalThis as unknown as {
    onmessage: ((event: MessageEvent<ToThread>) => void) | null;
    postMessage: (message: FromThread, transfer?: readonly Transferable[]) => void;
  };
  const engine = engineOf((message) => worker.postMessage(message));
  let frame = 0;
  worker.onmessage = ({ data }) => {
    if (data.kind !== 'more') return engine.hear(data);
    const left = new Float32Array(data.frames);
    const right = new Float32Array(data.frames);
    engine.fill(left, right, frame);
    worker.postMessage({ kind: 'sound', frame, left, right }, [left.buffer, right.buffer]);
    frame += data.frames;
  };
};

if (scope.registerProcessor !== undefined) asWorklet(scope as WorkletScope);
else asWorker();
