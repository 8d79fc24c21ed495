/** What is counted in: beats a minute, and beats in a bar. */
export interface EarTempo {
  readonly beatsPerMinute: number;
  readonly beatsInBar: number;
}

let context: AudioContext | null = null;

const running = async (): Promise<AudioContext> => {
  context ??= new AudioContext();
  if (context.state !== 'running') await context.resume();
  return context;
};

/** Length of a click, and how much of a second the A sounds. Seconds. Ours. */
const CLICK = 0.045;
const LONG_A = 4;
/** Frequencies of the first click of a bar, the others, and the A to tune to (ISO 16: 440 Hz). */
const PITCH = { first: 1650, other: 1100, a: 440 } as const;
/** Strengths of the A's partials: enough of them that the ear finds beats. Ours. */
const PARTIALS = [1, 0.5, 0.35, 0.2, 0.1];

const tone = (on: AudioContext, frequency: number, from: number, length: number, level: number): void => {
  const source = new OscillatorNode(on, { type: 'sine', frequency });
  const gain = new GainNode(on, { gain: 0 });
  gain.gain.setValueAtTime(0, from);
  gain.gain.linearRampToValueAtTime(level, from + 0.004);
  gain.gain.setValueAtTime(level, Math.max(from + 0.004, from + length - 0.03));
  gain.gain.linearRampToValueAtTime(0, from + length);
  source.connect(gain).connect(on.destination);
  source.start(from);
  source.stop(from + length + 0.01);
};

/** Two bars of clicks at the planned tempo, quiet enough for one ear. */
export const clickInEar = async ({ beatsPerMinute, beatsInBar }: EarTempo): Promise<void> => {
  const on = await running();
  const begin = on.currentTime + 0.08;
  for (let beat = 0; beat < 2 * beatsInBar; beat += 1)
    tone(
      on,
      beat % beatsInBar === 0 ? PITCH.first : PITCH.other,
      begin + (beat * 60) / beatsPerMinute,
      CLICK,
      0.25,
    );
};

/** An A to tune to. */
export const soundA = async (): Promise<void> => {
  const on = await running();
  PARTIALS.forEach((level, i) => {
    tone(on, PITCH.a * (i + 1), on.currentTime + 0.02, LONG_A, level * 0.12);
  });
};
