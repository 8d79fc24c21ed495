import { type SoundedBar, soundingAt } from './sounded.ts';

/** What sounds at every running-note place from the first full bar on. */
export interface Profile {
  readonly cell: string;
  readonly whole: Int16Array;
  readonly hook: number;
}

/** The profile of a tune. */
export const profileOf = (bars: readonly SoundedBar[]): Profile => {
  const pitches: number[] = [];
  let full = 0;
  let hook = 0;
  let started = false;
  for (const bar of bars) {
    started ||= bar.role === 'full';
    if (!started) continue;
    for (let at = 0; at < bar.length; at += bar.running) pitches.push(soundingAt(bar, at) ?? -1);
    if (bar.role === 'full') full += 1;
    if (full <= 2) hook = pitches.length;
  }
  const first = bars.find((b) => b.role === 'full');
  const cell =
    first === undefined ? '' : `${first.metre.replace('2/2', '4/4')} ${first.cell / first.running}`;
  return { cell, whole: Int16Array.from(pitches), hook };
};

const agreement = (a: Profile, b: Profile, of: 'whole' | 'hook'): number => {
  const [na, nb] = of === 'whole' ? [a.whole.length, b.whole.length] : [a.hook, b.hook];
  const most = Math.min(na, nb);
  let same = 0;
  for (let i = 0; i < most; i += 1) if (a.whole[i] === b.whole[i]) same += 1;
  return same / Math.max(1, na, nb);
};

/** Two plain stretches that agree in so many places are settings of one tune. */
const SAME_TUNE = 0.75;

/**
 * Share of versions that agree with their own tune more than with any other of the same metre.
 *
 * Other settings of the same tune are no rivals: tunes whose plain stretch agrees in three quarters of its places.
 * A tie counts against it.
 */
export const nearestShare = (
  plain: readonly Profile[],
  bones: readonly Profile[],
  of: 'whole' | 'hook',
): number => {
  const found = bones.filter((own, i) => {
    const mine = plain[i] as Profile;
    const best = agreement(own, mine, of);
    return plain.every((other, k) => {
      if (k === i || other.cell !== mine.cell) return true;
      return agreement(own, other, of) < best || agreement(mine, other, of) >= SAME_TUNE;
    });
  });
  return bones.length === 0 ? 1 : found.length / bones.length;
};
