import type { Grip } from './grips.ts';
import type { Hold } from './holds.ts';

/**
 * What it costs the hands to go from one note to the next, at the pace of running notes.
 * @see Ours: tuned on the professionals' shares of fingers (TNUA violin fingering data set, IUI 2021), and leaning further
 * to the open string, as fiddlers do
 */
const MOVE = {
  /** To the next string. */
  crossing: 0.26,
  /** For every string skipped. */
  skipping: 0.5,
  /** One finger, two places on neighbouring strings: F♯ on D to C♮ on A. */
  replacing: 0.6,
  /** One finger slides along its string. */
  sliding: 0.7,
  /** A finger over another. */
  wrongOrder: 3,
  /** The hand leaves its position. */
  shift: 1,
  /** For every position further. */
  shiftFurther: 0.3,
} as const;

const crossed = (from: Grip, to: Hold): number => {
  let fewest = Math.abs(from.melody.place - to.place);
  for (const hold of from.beside)
    if (hold !== null) fewest = Math.min(fewest, Math.abs(hold.place - to.place));
  return fewest;
};

const alongString = (from: Hold, to: Hold): number => {
  if (from.finger === 0 || to.finger === 0 || from.semitones === to.semitones) return 0;
  if (from.finger === to.finger) return MOVE.sliding;
  return from.semitones < to.semitones === from.finger < to.finger ? 0 : MOVE.wrongOrder;
};

const acrossStrings = (from: Hold, to: Hold): number =>
  from.finger === to.finger && from.finger !== 0 && from.semitones !== to.semitones ? MOVE.replacing : 0;

/**
 * What does it cost to go from one grip to the next?
 * @param haste - 1 where the first is a running note, less for longer ones: there is time
 */
export const moveCost = (from: Grip, to: Grip, haste: number): number => {
  const [a, b] = [from.melody, to.melody];
  const strings = crossed(from, b);
  let cost = strings === 0 ? 0 : MOVE.crossing + (strings - 1) * MOVE.skipping;
  if (a.position !== b.position && a.finger !== 0 && b.finger !== 0)
    cost += MOVE.shift + (Math.abs(a.position - b.position) - 1) * MOVE.shiftFurther;
  else cost += a.place === b.place ? alongString(a, b) : acrossStrings(a, b);
  return cost * haste;
};
