import type { Mode } from '../music/index.ts';
import type { HeardNote } from './cells.ts';
import { isMinor, rootOf, type TriadClass, thirdOf } from './vocabulary.ts';

/** A third is in doubt in a tune that sounds the other one at least this share of the time it sounds either. Ours. */
const DOUBTFUL_SHARE = 0.25;

const timeOn = (notes: readonly HeardNote[], degree: number): number =>
  notes.reduce((sum, note) => (note.degree === degree ? sum + note.crotchets : sum), 0);

/**
 * Should a backing player leave the third out of this chord?
 *
 * Yes where the melody sounds the other third against it; in a mode other than major also where the tune never sounds
 * that third (a gapped scale says neither); and where the tune wavers between the two and this bar does not decide.
 * @param notes - the melody while the chord sounds
 * @param sounding - how long each note 0…11 above the keynote sounds in the whole tune
 * @see Common practice: bare fifths where the third is doubtful; the share is ours
 */
export const thirdIsDoubtful = (
  triad: TriadClass,
  mode: Mode,
  notes: readonly HeardNote[],
  sounding: readonly number[],
): boolean => {
  const third = thirdOf(triad);
  const otherThird = (rootOf(triad) + (isMinor(triad) ? 4 : 3)) % 12;
  const here = timeOn(notes, third);
  const otherHere = timeOn(notes, otherThird);
  if (otherHere > here) return true;
  if (here > 0) return false;
  const own = sounding[third] ?? 0;
  const other = sounding[otherThird] ?? 0;
  if (own === 0) return mode !== 'major' || other > 0;
  return other / (own + other) >= DOUBTFUL_SHARE;
};
