import type { FingerDot } from './fingerMap.ts';

/** Rows of first position by semitones above the open string, as fingers. Common practice. */
const ROW_NAMES: readonly string[] = [
  'open',
  'low first',
  'first',
  'low second',
  'high second',
  'third',
  'high third',
  'fourth',
  'stretched fourth',
];
/** Where two fingers meet, so that the finger's number stands beside the note. */
const SHARED_ROW = 6;
/** So many rows below the nut are drawn at least. */
const LEAST_ROWS = 7;

/** How far down its string a note lies, as a share of the string: each semitone takes the twelfth root of two. */
const depthOf = (semitones: number): number => 1 - 2 ** (-semitones / 12);

/** The last row of a finger map's drawing, in semitones above the open strings. */
export const lastRowOf = (dots: readonly FingerDot[]): number =>
  Math.max(LEAST_ROWS, ...dots.map((d) => d.semitones));

/** How far down a drawing a row lies that ends with `last`: 0 at the nut, 1 at the end, to scale. */
export const rowDepth = (semitones: number, last: number): number => depthOf(semitones) / depthOf(last);

/** What a row of the map is called ("low second"); empty above first position. */
export const rowName = (semitones: number, dots: readonly FingerDot[]): string => {
  if (semitones !== SHARED_ROW) return ROW_NAMES[semitones] ?? '';
  const fingers = new Set(dots.filter((d) => d.semitones === semitones).map((d) => d.finger));
  if (fingers.size > 1) return '3 high, 4 low';
  return fingers.has(4) ? 'low fourth' : 'high third';
};

/** Whether the finger's number is needed beside the note: its row says another, or none. */
const needsFinger = ({ semitones, finger, position }: FingerDot): boolean =>
  position > 1 || semitones === SHARED_ROW || (semitones === 4 && finger !== 2);

/** The fingers that stop this place in the tune ("3, 4"), once, beside the first of them; empty where its row says it. */
export const fingersBeside = (dot: FingerDot, dots: readonly FingerDot[]): string => {
  const there = dots.filter((d) => d.inTune && d.string === dot.string && d.semitones === dot.semitones);
  return there[0] === dot && there.some(needsFinger) ? there.map((d) => d.finger).join(', ') : '';
};
