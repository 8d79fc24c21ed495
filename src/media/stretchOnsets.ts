// Time-domain stretch for one bowed voice: pieces of the sound laid over one another where they fit best (WSOLA), with
// every onset kept at its own speed, so that attacks stay crisp however slow the tune is.
// Source of the method: W. Verhelst, M. Roelands, "An overlap-add technique based on waveform similarity (WSOLA)",
// ICASSP 1993. Locking to onsets: ours.

/** Before and after an onset this much is kept at its own speed, seconds. Ours: a bow's attack. */
const KEPT_BEFORE = 0.014;
const KEPT_AFTER = 0.034;
/** Half of a piece, and how far a better fit is looked for, seconds. */
const HALF_PIECE = 0.01;
const SEARCH = 0.009;
/** First look at every so many lags and samples only. */
const COARSE = 6;

/** A knot of the map from played to original time, seconds. */
interface Knot {
  readonly out: number;
  readonly from: number;
}

/** Where each moment of the result comes from: at own speed about onsets, evenly slower between them. */
const timeMap = (onsets: readonly number[], length: number, speed: number): readonly Knot[] => {
  const kept: { start: number; end: number }[] = [];
  for (const onset of onsets) {
    const start = Math.max(kept.at(-1)?.end ?? 0, onset - KEPT_BEFORE);
    const end = Math.min(length, onset + KEPT_AFTER);
    if (end > start) kept.push({ start, end });
  }
  // Onset for onset the result lies where plain slowing would put it.
  const knots: Knot[] = [{ out: 0, from: 0 }];
  for (const { start, end } of kept) {
    const out = Math.max(knots.at(-1)?.out ?? 0, (start + KEPT_BEFORE) / speed - KEPT_BEFORE);
    knots.push({ out, from: start }, { out: out + end - start, from: end });
  }
  knots.push({ out: Math.max(length / speed, (knots.at(-1)?.out ?? 0) + 0.01), from: length });
  return knots;
};

/** Reads the map at rising times. */
const mapReader = (
  knots: readonly Knot[],
): ((out: number) => { readonly from: number; readonly kept: boolean }) => {
  let k = 0;
  return (out) => {
    while (k + 2 < knots.length && (knots[k + 1] as Knot).out <= out) k += 1;
    const [a, b] = [knots[k] as Knot, knots[k + 1] as Knot];
    const share = b.out > a.out ? (out - a.out) / (b.out - a.out) : 0;
    const slope = b.out > a.out ? (b.from - a.from) / (b.out - a.out) : 1;
    return { from: a.from + share * (b.from - a.from), kept: Math.abs(slope - 1) < 1e-6 };
  };
};

/** Likeness of the sound at two places over a piece, of every `step`-th sample. */
const likeness = (sound: Float32Array, a: number, b: number, how: { size: number; step: number }): number => {
  let [ab, bb] = [0, 1e-9];
  for (let i = 0; i < how.size; i += how.step) {
    const y = sound[b + i] ?? 0;
    ab += (sound[a + i] ?? 0) * y;
    bb += y * y;
  }
  return ab / Math.sqrt(bb);
};

/** The place near `about` that goes on best from `natural`. */
const bestPlace = (
  sound: Float32Array,
  natural: number,
  about: number,
  how: { reach: number; size: number },
): number => {
  let [best, most] = [about, -Infinity];
  const look = (low: number, high: number, step: number): void => {
    for (let place = low; place <= high; place += step) {
      if (place < 0) continue;
      const alike = likeness(sound, natural, place, { size: how.size, step });
      if (alike > most) [most, best] = [alike, place];
    }
  };
  look(about - how.reach, about + how.reach, COARSE);
  most = -Infinity;
  const near = best;
  look(near - COARSE, near + COARSE, 1);
  return best;
};

/**
 * The sound of one voice at another speed, its pitch kept and its attacks as they were.
 * @param channels - of equal length; places are chosen on their sum
 * @param how - `speed`: below 1 slower; `onsets`: seconds, rising
 */
export const stretchedAtOnsets = (
  channels: readonly Float32Array[],
  rate: number,
  how: { readonly speed: number; readonly onsets: readonly number[] },
): readonly Float32Array[] => {
  const frames = channels[0]?.length ?? 0;
  const sum = Float32Array.from({ length: frames }, (_, i) =>
    channels.reduce((s, c) => s + (c[i] as number), 0),
  );
  const read = mapReader(timeMap(how.onsets, frames / rate, how.speed));
  const half = Math.round(HALF_PIECE * rate);
  const window = Float32Array.from(
    { length: 2 * half },
    (_, i) => 0.5 - 0.5 * Math.cos((Math.PI * (i + 0.5)) / half),
  );
  const length = Math.ceil(frames / how.speed) + 2 * half;
  const out = channels.map(() => new Float32Array(length));
  let natural = 0;
  for (let at = 0; at + 2 * half < length; at += half) {
    const { from, kept } = read((at + half) / rate);
    const about = Math.round(from * rate) - half;
    // About an onset pieces stand where they stood: the attack hides the seam.
    const exact = at === 0 || kept;
    const place = exact
      ? about
      : bestPlace(sum, natural, about, { reach: Math.round(SEARCH * rate), size: 2 * half });
    for (const [c, channel] of channels.entries()) {
      const to = out[c] as Float32Array;
      for (let i = 0; i < 2 * half; i += 1)
        to[at + i] = (to[at + i] as number) + (window[i] as number) * (channel[place + i] ?? 0);
    }
    natural = place + half;
  }
  return out.map((channel) => channel.subarray(0, Math.ceil(frames / how.speed)));
};
