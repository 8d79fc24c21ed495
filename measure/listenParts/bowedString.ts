import { hertz, randomFrom } from '../../src/core/index.ts';
import type { TimedNote, Timeline } from '../../src/perform/index.ts';
import { bandPass, filtered } from '../../src/signal/index.ts';

// A bowed string added up from partials: nothing of it comes from the bank, so that listening isn't tuned to its own
// voice. Slurs, vibrato, scattered intonation, bow noise, body and room are drawn from a seed.

const PARTIALS = 14;
/** Resonances of the body: hertz, gain, width in octaves. Ours: about where a violin's air and wood modes lie. */
const BODY = [
  [280, 1.2, 0.3],
  [460, 1.5, 0.35],
  [900, 0.8, 0.5],
  [2400, 1.1, 0.7],
] as const;
/** Share of strokes between unequal notes that are slurred. */
const SLURRED = 0.35;
/** Scatter of intonation, cents. */
const SCATTER = 7;
/** Vibrato on notes longer than this, seconds; its width in cents and rate in hertz. */
const VIBRATO = { after: 0.22, width: 14, rate: 5.6 } as const;
const GLIDE = 0.012;

const bodyGain = (frequency: number): number =>
  BODY.reduce(
    (sum, [at, gain, width]) => sum + gain * Math.exp(-((Math.log2(frequency / at) / width) ** 2)),
    0.35,
  );

const isFlick = (note: TimedNote): boolean => note.attack === 'cut' || note.attack === 'strike';

interface Stroke {
  readonly start: number;
  readonly end: number;
  /** Frequency at a time since the stroke's begin. */
  readonly notes: readonly { readonly start: number; readonly hertz: number; readonly vibrato: boolean }[];
}

/** Notes joined to strokes: slurs, flicks and what follows a flick go on in the stroke. */
const strokesOf = (notes: readonly TimedNote[], cents: number, seed: number): readonly Stroke[] => {
  const chance = randomFrom(seed);
  const strokes: { start: number; end: number; notes: Stroke['notes'][number][] }[] = [];
  let before: TimedNote | undefined;
  for (const note of notes) {
    const last = strokes.at(-1);
    const touches = before !== undefined && Math.abs(before.start + before.length - note.start) < 0.02;
    const flows =
      note.attack === 'afterFlick' || (isFlick(note) && note.newBow !== true) || note.attack === 'slur';
    const other = before !== undefined && before.midi !== note.midi;
    const joined = touches && (flows || (other && note.attack === 'bow' && chance.next() < SLURRED));
    const sounding = {
      start: note.start,
      hertz: 440 * 2 ** ((note.midi - 69 + (cents + SCATTER * chance.normal()) / 100) / 12),
      vibrato: note.length > VIBRATO.after,
    };
    if (joined && last !== undefined) {
      last.notes.push(sounding);
      last.end = note.start + note.length;
    } else strokes.push({ start: note.start, end: note.start + note.length, notes: [sounding] });
    before = note;
  }
  return strokes;
};

const playStroke = (out: Float32Array, stroke: Stroke, rate: number, seed: number): void => {
  const chance = randomFrom(seed);
  const attack = 0.012 + 0.025 * chance.next();
  // The string is let down before the bow turns: strokes never overlap at full strength.
  const [letDown, release] = [0.014, 0.022];
  const level = 0.75 + 0.25 * chance.next();
  const frames = Math.round((stroke.end - stroke.start + release) * rate);
  const from = Math.round(stroke.start * rate);
  let phase = chance.next() * 2 * Math.PI;
  let current = stroke.notes[0]?.hertz ?? 440;
  let at = 0;
  let gains = new Float64Array(PARTIALS + 1);
  const retune = (f: number): void => {
    gains = Float64Array.from({ length: PARTIALS + 1 }, (_, h) =>
      h === 0 || h * f > rate * 0.45 ? 0 : bodyGain(h * f) / h ** 1.1,
    );
  };
  retune(current);
  const slide = 1 - Math.exp(-1 / (GLIDE * 0.4 * rate));
  for (let i = 0; i < frames; i += 1) {
    const t = stroke.start + i / rate;
    const next = stroke.notes[at + 1];
    if (next !== undefined && t >= next.start) {
      at += 1;
      retune(next.hertz);
    }
    const note = stroke.notes[at];
    if (note === undefined) return;
    current += (note.hertz - current) * slide;
    const into = Math.max(0, t - note.start - 0.08);
    const shake = note.vibrato
      ? VIBRATO.width * Math.min(1, into * 8) * Math.sin(2 * Math.PI * VIBRATO.rate * into)
      : 0;
    phase += (2 * Math.PI * current * (1 + shake * 5.78e-4)) / rate;
    if (phase > 2 * Math.PI) phase -= 2 * Math.PI;
    const twice = 2 * Math.cos(phase);
    let [s1, s2] = [Math.sin(phase), 0];
    let sum = 0;
    for (let h = 1; h <= PARTIALS; h += 1) {
      sum += (gains[h] as number) * s1;
      [s1, s2] = [twice * s1 - s2, s1];
    }
    const gate = Math.min(1, i / (attack * rate)) * Math.min(1, (frames - i) / ((letDown + release) * rate));
    const k = from + i;
    if (k >= 0 && k < out.length) out[k] = (out[k] as number) + 0.11 * level * gate * sum;
  }
};

/** A little room: early echoes and a tail of filtered noise, convolved sparsely. */
const inRoom = (dry: Float32Array, rate: number): Float32Array => {
  const out = Float32Array.from(dry);
  for (const [delay, gain] of [
    [0.0231, 0.62],
    [0.0297, 0.6],
    [0.0371, 0.58],
    [0.0413, 0.56],
  ] as const) {
    const line = new Float32Array(Math.round(delay * rate));
    let [at, soft] = [0, 0];
    for (let i = 0; i < dry.length; i += 1) {
      const heard = line[at] as number;
      soft += 0.6 * (heard - soft);
      line[at] = (dry[i] as number) + gain * soft;
      at = at + 1 === line.length ? 0 : at + 1;
      out[i] = (out[i] as number) + 0.09 * heard;
    }
  }
  return out;
};

/** The fiddle notes of a timeline on the bowed string. */
export const bowedString = (
  timeline: Timeline,
  how: { readonly rate: number; readonly cents: number; readonly seed: number },
): Float32Array => {
  const { rate, cents, seed } = how;
  const frames = Math.ceil((timeline.length + 1.2) * rate);
  const out = new Float32Array(frames);
  const own = timeline.notes.filter((n) => n.voice === 'fiddle');
  const strokes = [
    ...strokesOf(
      own.filter((n) => n.beside !== true),
      cents,
      seed,
    ),
    ...strokesOf(
      own.filter((n) => n.beside === true),
      cents,
      seed + 1,
    ),
  ];
  for (const [i, stroke] of strokes.entries()) playStroke(out, stroke, rate, seed * 1000 + i);
  const chance = randomFrom(seed + 7);
  const hiss = filtered(
    Float32Array.from({ length: frames }, () => chance.normal()),
    [bandPass(hertz(2800), hertz(rate), 0.7)],
  );
  let loudness = 0;
  for (let i = 0; i < frames; i += 1) {
    loudness += 0.002 * (Math.abs(out[i] as number) - loudness);
    out[i] = (out[i] as number) + 0.09 * loudness * (hiss[i] as number);
  }
  return inRoom(out, rate);
};
