import { FIFTH, midiOf, OPEN_STRINGS } from '../music/index.ts';
import { HANDS } from './data.ts';

const OPEN = OPEN_STRINGS.map(midiOf);
const OCTAVE = 12;

/** Which string a pitch lies on in first position with open strings: 0 for G … 3 for E. */
const stringOf = (midi: number): number => {
  let string = 0;
  OPEN.forEach((open, i) => {
    if (midi >= open) string = i;
  });
  return string;
};

/** What playing b right after a costs the hands, when the plain version has other notes between them. */
export const neighbourCost = (a: number, b: number): number => {
  const leap = Math.abs(a - b);
  const crossed = Math.abs(stringOf(a) - stringOf(b));
  let cost = Math.max(0, crossed - 1) * HANDS.skippedString;
  if (leap > OCTAVE) cost += HANDS.overOctave;
  else if (leap > FIFTH) cost += HANDS.overFifth + (leap - FIFTH) * HANDS.beyondFifth;
  if (leap === 6 || leap === 10 || leap === 11) cost += HANDS.awkward;
  return cost;
};
