import { fingeringOf, type StayDown, stayDownsOf } from '../../src/fiddle/index.ts';
import { addressKey, type Score } from '../../src/score/index.ts';
import { deriveVersions } from '../../src/versions/index.ts';

/** Parts of bones, those with a finger that stays down, and stay-downs that the fingering contradicts. */
export interface StayTally {
  parts: number;
  partsWithOne: number;
  stays: number;
  false: number;
}

/** An empty tally. */
export const newStayTally = (): StayTally => ({ parts: 0, partsWithOne: 0, stays: 0, false: 0 });

/** Whether the fingering has another finger at an end, or an open string, a lower place or the finger itself elsewhere meanwhile. */
const isFalse = (stay: StayDown, fingering: ReturnType<typeof fingeringOf>): boolean => {
  const keys = fingering.map((f) => addressKey(f.address));
  const during = fingering.slice(keys.indexOf(addressKey(stay.from)), keys.indexOf(addressKey(stay.to)) + 1);
  const [first, last] = [during[0], during.at(-1)];
  if (first === undefined || last === undefined || first.finger !== stay.finger) return true;
  return during.some((f) => {
    const under = stay.strings.includes(f.string);
    if (f.finger === stay.finger) return !under || f.semitones !== first.semitones;
    return under && f.semitones <= first.semitones;
  });
};

/** Adds the bones of a tune to the tally. */
export const tallyStays = (score: Score, tally: StayTally): void => {
  const { bones } = deriveVersions(score);
  const fingering = fingeringOf(bones);
  const stays = stayDownsOf(bones, {}, fingering);
  const parts = new Set(stays.map((stay) => stay.from.part));
  tally.parts += bones.parts.length;
  tally.partsWithOne += parts.size;
  tally.stays += stays.length;
  tally.false += stays.filter((stay) => isFalse(stay, fingering)).length;
};
