import { compare, toNumber } from '../core/index.ts';
import { chordPlanOf } from '../harmony/index.ts';
import { chordChromas } from '../music/index.ts';
import type { Score } from '../score/index.ts';
import type { ChordTonesIn } from './weigh.ts';

/** Tones of the chord over each place of a tune, by its chord plan; null where no chord is planned. */
export const chordTonesOf = (score: Score, ticks: number): ChordTonesIn => {
  const bars = new Map<string, { readonly from: number; readonly tones: readonly number[] }[]>();
  for (const chord of [...chordPlanOf(score)].sort((a, b) => compare(a.onset, b.onset))) {
    const key = `${chord.part}/${chord.bar}`;
    const own = bars.get(key) ?? [];
    own.push({ from: toNumber(chord.onset) * ticks, tones: chordChromas(chord.chord) });
    bars.set(key, own);
  }
  return (part, bar) => {
    const own = bars.get(`${part}/${bar}`);
    return (tick) => own?.findLast((c) => c.from <= tick)?.tones ?? null;
  };
};
