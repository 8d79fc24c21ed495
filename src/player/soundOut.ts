import { type FromThread, PROCESSOR, type ToThread } from './thread.ts';

/** How the sound gets out: made on the audio system's own thread, or by a worker in pieces. */
export type SoundWay = 'worklet' | 'pieces';

/** The way from the engine to the loudspeaker. */
export interface SoundOut {
  readonly way: SoundWay;
  readonly rate: number;
  readonly send: (message: ToThread) => void;
  /** The frame, in reports' numbers, that is being heard at this moment. */
  readonly heard: () => number;
  /** To be called from a touch or key: browsers begin no sound by themselves. */
  readonly wake: () => Promise<void>;
  readonly rest: () => Promise<void>;
}

/** Length of a piece, and how far ahead pieces lie, seconds: more when the page is hidden and timers are slow. Ours. */
const PIECE = 0.2;
const AHEAD = { seen: 0.6, hidden: 3 } as const;
const LOOK_EVERY = 80;

/** The sound thread's script: where it is, or its text where a page has nothing beside it. */
export type SoundScript = { readonly address: string } | { readonly text: string };

/** A script as an address: from a file, browsers refuse other kinds of made addresses. */
const addressOf = (script: SoundScript): string =>
  'address' in script
    ? script.address
    : `data:text/javascript;charset=utf-8,${encodeURIComponent(script.text)}`;

/** Seconds of the context's clock that are heard now, what lies between it and the loudspeaker taken off. */
const heardTime = (context: AudioContext): number => {
  const stamp = typeof context.getOutputTimestamp === 'function' ? context.getOutputTimestamp() : {};
  if (stamp.contextTime !== undefined && stamp.performanceTime !== undefined && stamp.performanceTime > 0) {
    const since = (performance.now() - stamp.performanceTime) / 1000;
    // A stamp that is old, or of another clock, says nothing.
    if (since >= 0 && since < 1) return stamp.contextTime + since;
  }
  return context.currentTime - (context.outputLatency || context.baseLatency || 0);
};

const wake = async (context: AudioContext): Promise<void> => {
  if (context.state !== 'running') await context.resume();
};

const rest = async (context: AudioContext): Promise<void> => {
  if (context.state === 'running') await context.suspend();
};

/** The engine as a worklet. Works in a context for playing and in one for capturing. */
const workletOn = async (
  context: BaseAudioContext,
  script: SoundScript,
  hear: (message: FromThread) => void,
): Promise<AudioWorkletNode> => {
  await context.audioWorklet.addModule(addressOf(script));
  const node = new AudioWorkletNode(context, PROCESSOR, { numberOfInputs: 0, outputChannelCount: [2] });
  node.port.onmessage = ({ data }: MessageEvent<FromThread>) => hear(data);
  node.connect(context.destination);
  return node;
};

const throughWorklet = async (
  context: AudioContext,
  script: SoundScript,
  hear: (message: FromThread) => void,
): Promise<SoundOut> => {
  const node = await workletOn(context, script, hear);
  return {
    way: 'worklet',
    rate: context.sampleRate,
    send: (message) => node.port.postMessage(message),
    heard: () => heardTime(context) * context.sampleRate,
    wake: () => wake(context),
    rest: () => rest(context),
  };
};

/** Sets pieces one after the other on the context's clock. */
const pieceLayer = (context: AudioContext, ask: (frames: number) => void) => {
  const frames = Math.round(PIECE * context.sampleRate);
  const laid = new Set<AudioBufferSourceNode>();
  let asked = 0;
  /** Context time of frame 0, moved later after each gap. */
  let zero: number | null = null;
  let dropBefore = 0;
  const askAhead = (): void => {
    if (context.state !== 'running') return;
    zero ??= context.currentTime + PIECE;
    const ahead = document.visibilityState === 'hidden' ? AHEAD.hidden : AHEAD.seen;
    while (zero + asked / context.sampleRate < context.currentTime + ahead) {
      asked += frames;
      ask(frames);
    }
  };
  return {
    askAhead,
    lay: (frame: number, left: Float32Array, right: Float32Array): void => {
      if (zero === null || frame < dropBefore) return;
      const buffer = context.createBuffer(2, left.length, context.sampleRate);
      buffer.getChannelData(0).set(left);
      buffer.getChannelData(1).set(right);
      const at = zero + frame / context.sampleRate;
      if (at < context.currentTime) zero += context.currentTime - at + PIECE;
      const source = new AudioBufferSourceNode(context, { buffer });
      source.connect(context.destination);
      source.onended = () => laid.delete(source);
      source.start(zero + frame / context.sampleRate);
      laid.add(source);
    },
    /** What has been laid and asked for is not wanted any more. */
    drop: (): void => {
      for (const source of laid) source.stop();
      laid.clear();
      dropBefore = asked;
      if (zero !== null) zero = context.currentTime + 0.05 - asked / context.sampleRate;
    },
    zero: (): number => zero ?? 0,
  };
};

const throughPieces = (
  context: AudioContext,
  script: SoundScript,
  hear: (message: FromThread) => void,
): SoundOut => {
  const worker = new Worker(addressOf(script));
  const layer = pieceLayer(context, (frames) =>
    worker.postMessage({ kind: 'more', frames } satisfies ToThread),
  );
  worker.onmessage = ({ data }: MessageEvent<FromThread>) => {
    if (data.kind === 'sound') layer.lay(data.frame, data.left, data.right);
    else hear(data);
  };
  setInterval(layer.askAhead, LOOK_EVERY);
  return {
    way: 'pieces',
    rate: context.sampleRate,
    send: (message) => {
      if (message.kind === 'start' || message.kind === 'stop') layer.drop();
      worker.postMessage(message);
      layer.askAhead();
    },
    heard: () => (heardTime(context) - layer.zero()) * context.sampleRate,
    wake: () => wake(context),
    rest: () => rest(context),
  };
};

/**
 * Opens a way for the sound: a worklet where the browser has it, else pieces.
 * @param wanted - `pieces` leaves the worklet out
 */
export const openSound = async (
  script: SoundScript,
  hear: (message: FromThread) => void,
  wanted: SoundWay = 'worklet',
): Promise<SoundOut> => {
  const context = new AudioContext({ latencyHint: 'interactive' });
  if (wanted === 'worklet' && 'audioWorklet' in context) {
    try {
      return await throughWorklet(context, script, hear);
    } catch {
      // A browser that refuses the worklet still has workers.
    }
  }
  return throughPieces(context, script, hear);
};
