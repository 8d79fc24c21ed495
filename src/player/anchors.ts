import { type Address, addressKey } from '../score/index.ts';
import type { Pass, PassBar } from './pass.ts';

/** A written note and when it is played in its bar. */
export interface Anchor {
  /** Key of its address. */
  readonly key: string;
  readonly address: Address;
  /** Seconds since the bar began. */
  readonly at: number;
}

const anchorsIn = (bar: PassBar): readonly Anchor[] => {
  const first = new Map<string, Anchor>();
  for (const note of bar.notes) {
    if (note.voice !== 'fiddle' || note.address === undefined || note.beside === true) continue;
    const { part, bar: place, onset } = note.address;
    const address: Address = { part, bar: place, onset };
    const key = addressKey(address);
    const at = Math.max(0, note.start - bar.start);
    const known = first.get(key);
    if (known === undefined || at < known.at) first.set(key, { key, address, at });
  }
  return [...first.values()].sort((a, b) => a.at - b.at);
};

/** When the written notes of each bar are played, by place in the played order. */
export const anchorsOf = (pass: Pass): ReadonlyMap<number, readonly Anchor[]> =>
  new Map(pass.onward.map((bar) => [bar.index, anchorsIn(bar)]));
