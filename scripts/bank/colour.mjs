import { filtered, highShelf } from '../../dist/signal/index.js';

const CORNER = 2000;
/** Most that the upper partials of one sample are moved to suit its neighbours, in decibels. */
const MOST_DECIBELS = 5;

/** Energy above 2 kHz against all of it, in decibels. */
const upperShare = (samples, rate) => {
  let upper = 0;
  let all = 0;
  // A one-pole split is enough to compare samples of one instrument.
  const pole = Math.exp((-2 * Math.PI * CORNER) / rate);
  let low = 0;
  for (const x of samples) {
    low += (1 - pole) * (x - low);
    upper += (x - low) ** 2;
    all += x * x;
  }
  return 10 * Math.log10(upper / all);
};

/** Straight line through the zones' upper shares: how bright a key should be between its neighbours. */
export const brightnessLine = (zones) => {
  const shares = zones.map(({ samples, rate }) => upperShare(samples, rate));
  const meanKey = zones.reduce((a, z) => a + z.root, 0) / zones.length;
  const meanShare = shares.reduce((a, b) => a + b, 0) / zones.length;
  const spread = zones.reduce((a, z) => a + (z.root - meanKey) ** 2, 0);
  const slope = zones.reduce((a, z, i) => a + (z.root - meanKey) * (shares[i] - meanShare), 0) / spread;
  return (key) => meanShare + slope * (key - meanKey);
};

/** The sample with its upper partials raised or lowered until its brightness is `wanted`. */
export const balancedTo = (samples, rate, wanted) => {
  let change = 0;
  let out = samples;
  for (let round = 0; round < 4; round += 1) {
    change += wanted - upperShare(out, rate);
    change = Math.min(MOST_DECIBELS, Math.max(-MOST_DECIBELS, change));
    out = filtered(samples, [highShelf(CORNER, rate, change)]);
  }
  return out;
};
