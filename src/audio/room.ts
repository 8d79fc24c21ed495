import type { Hertz } from '../core/index.ts';
import type { StereoSound } from '../signal/index.ts';

// A small room with soft furnishing, as four delay lines that feed one another (a feedback delay network with a
// Hadamard matrix). Ours: short enough for fast reels.

/** Line lengths, seconds: no common factor, so that echoes don't pile up. */
const LINES = [0.0233, 0.0297, 0.0371, 0.0419] as const;
/** Seconds to −60 dB. */
const REVERBERATION = 0.55;
/** The first echo comes after this, seconds. */
const PREDELAY = 0.009;
/** Share of the highs that each round trip keeps (one-pole). */
const SOFTNESS = 0.35;
/** Below this the room answers little, hertz: else bass and drum blur. */
const LOW_CUT = 180;

/** A room that sound is sent into, stretch after stretch. */
export interface Room {
  /** What it answers to the next stretch, and to all before it: wet only, same length. */
  readonly answer: (sent: Float32Array) => StereoSound;
}

/** A room, silent at first. */
export const emptyRoom = (rate: Hertz): Room => {
  const lines = LINES.map((s) => new Float32Array(Math.round(s * rate)));
  const gains = LINES.map((s) => 10 ** ((-3 * s) / REVERBERATION));
  const [l0, l1, l2, l3] = lines as [Float32Array, Float32Array, Float32Array, Float32Array];
  const [g0, g1, g2, g3] = gains as [number, number, number, number];
  const lowPole = 1 - Math.exp((-2 * Math.PI * LOW_CUT) / rate);
  const late = new Float32Array(Math.round(PREDELAY * rate));
  const keep = 1 - SOFTNESS;
  const state = { lows: 0, s0: 0, s1: 0, s2: 0, s3: 0, p0: 0, p1: 0, p2: 0, p3: 0, p: 0 };
  const answer = (sent: Float32Array): StereoSound => {
    // In variables of their own: the loop is half as fast on an object's fields.
    let { lows, s0, s1, s2, s3, p0, p1, p2, p3, p } = state;
    const left = new Float32Array(sent.length);
    const right = new Float32Array(sent.length);
    for (let i = 0; i < sent.length; i += 1) {
      s0 += keep * ((l0[p0] as number) * g0 - s0);
      s1 += keep * ((l1[p1] as number) * g1 - s1);
      s2 += keep * ((l2[p2] as number) * g2 - s2);
      s3 += keep * ((l3[p3] as number) * g3 - s3);
      left[i] = s0 - s2;
      right[i] = s1 - s3;
      const dry = late[p] as number;
      late[p] = sent[i] as number;
      p = p + 1 === late.length ? 0 : p + 1;
      lows += lowPole * (dry - lows);
      const x = dry - lows;
      l0[p0] = x + 0.5 * (s0 + s1 + s2 + s3);
      l1[p1] = x + 0.5 * (s0 - s1 + s2 - s3);
      l2[p2] = x + 0.5 * (s0 + s1 - s2 - s3);
      l3[p3] = x + 0.5 * (s0 - s1 - s2 + s3);
      p0 = p0 + 1 === l0.length ? 0 : p0 + 1;
      p1 = p1 + 1 === l1.length ? 0 : p1 + 1;
      p2 = p2 + 1 === l2.length ? 0 : p2 + 1;
      p3 = p3 + 1 === l3.length ? 0 : p3 + 1;
    }
    Object.assign(state, { lows, s0, s1, s2, s3, p0, p1, p2, p3, p });
    return { rate, left, right };
  };
  return { answer };
};
