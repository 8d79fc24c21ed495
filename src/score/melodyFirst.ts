import { isSamePitch, midiOf, OPEN_STRINGS, type Pitch } from '../music/index.ts';

type Tones = readonly [Pitch, ...Pitch[]];

const isOpen = (tone: Pitch): boolean => OPEN_STRINGS.some((open) => isSamePitch(open, tone));

/** Whether `open` is an open string and `tone` lies on the string below it: then it can ring above the tone. */
const ringsAbove = (open: Pitch, tone: Pitch): boolean => {
  const place = OPEN_STRINGS.findIndex((string) => isSamePitch(string, open));
  const below = OPEN_STRINGS[place - 1];
  return below !== undefined && midiOf(tone) >= midiOf(below);
};

/**
 * Which of the notes that are written to sound together is the melody?
 *
 * A writer who puts a higher note first means it. Written from the lowest up, as is usual, the highest is the melody,
 * except where it is an open string ringing above a fingered note. Common practice.
 * @param tones - as written
 * @returns the same tones, the melody first, the others in the order of writing
 * @example melodyFirst([D4, D5]) // [D5, D4]: a drone on the open D string below the tune
 */
export const melodyFirst = (tones: Tones): Tones => {
  const [first, ...others] = tones;
  const lowest = Math.min(...tones.map(midiOf));
  const highest = tones.reduce((a, b) => (midiOf(b) > midiOf(a) ? b : a));
  if (midiOf(first) !== lowest || midiOf(highest) === lowest) return tones;
  if (ringsAbove(highest, first) && !isOpen(first)) return tones;
  return [highest, first, ...others.filter((tone) => tone !== highest)];
};
