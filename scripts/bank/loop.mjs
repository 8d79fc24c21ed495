/**
 * Chooses and bakes a loop: the last `fade` samples before the loop's end are blended into those before its start, so
 * that jumping from end to start goes on smoothly.
 *
 * The loop is a stretch whose two ends look most alike, searched over one period and a half around `from`.
 * @returns {{ samples: Float32Array, start: number, end: number, likeness: number }} likeness: correlation of the ends, 1 is the same
 */
export const baked = (samples, { from, end, fade, period }) => {
  let best = { start: from, likeness: -2 };
  for (let start = from; start < from + 1.5 * period; start += 1) {
    const likeness = correlation(samples, start - fade, end - fade, fade);
    if (likeness > best.likeness) best = { start, likeness };
  }
  const out = samples.slice(0, end);
  // Alike ends add up in amplitude, unlike ones in power.
  const power = 0.5 + 0.5 * Math.min(1, Math.max(0, best.likeness));
  for (let i = 0; i < fade; i += 1) {
    const share = (i + 0.5) / fade;
    const a = samples[end - fade + i] * (1 - share) ** power;
    const b = samples[best.start - fade + i] * share ** power;
    out[end - fade + i] = a + b;
  }
  return { samples: out, start: best.start, end, likeness: best.likeness };
};

const correlation = (x, a, b, length) => {
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < length; i += 1) {
    ab += x[a + i] * x[b + i];
    aa += x[a + i] ** 2;
    bb += x[b + i] ** 2;
  }
  return ab / Math.sqrt(aa * bb + 1e-20);
};
