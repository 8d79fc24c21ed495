import type { Hertz } from '../core/index.ts';
import { decibels } from '../core/index.ts';
import { gainOf, readEvenly } from '../signal/index.ts';
import { type Bank, type BankVoice, type BankZone, zoneFor } from './bank.ts';
import { evenlyBright } from './brightness.ts';

/** Loudness to which every key of every instrument is brought before it is played and mixed, LUFS. Ours. */
const REFERENCE_LOUDNESS = -20;
/** A tone is made this much longer than asked for, so that the next longer note needs no new one. Ours. */
const SPARE = 1.5;

/** Plays a key of an instrument: its samples at the right pitch and the reference loudness. */
export type Tones = (voice: BankVoice, midi: number, frames: number) => Float32Array;

/** The zone's samples, and its loop as often as needed, let down as it would ring out. */
const unrolled = (zone: BankZone, length: number): Float32Array => {
  const { samples, loopStart, loopEnd, decay, rate } = zone;
  if (length <= loopEnd) return samples;
  const out = new Float32Array(length);
  out.set(samples.subarray(0, loopEnd));
  for (let at = loopEnd; at < length; at += loopEnd - loopStart)
    out.set(samples.subarray(loopStart, Math.min(loopEnd, loopStart + length - at)), at);
  if (decay === 0) return out;
  const step = 10 ** (-decay / rate / 20);
  let gain = 1;
  for (let i = loopStart; i < length; i += 1) {
    out[i] = (out[i] as number) * gain;
    gain *= step;
  }
  return out;
};

/** One key of a zone from its beginning: `frames` samples at `rate`. */
const tuned = (zone: BankZone, midi: number, to: { rate: Hertz; frames: number }): Float32Array => {
  const step = (zone.rate / to.rate) * 2 ** ((midi - zone.root - zone.cents / 100) / 12);
  const source = unrolled(zone, Math.ceil(to.frames * step) + 32);
  const out = readEvenly(source, { from: 0, step, count: to.frames });
  const gain = gainOf(decibels(REFERENCE_LOUDNESS - zone.loudness));
  for (let i = 0; i < out.length; i += 1) out[i] = (out[i] as number) * gain;
  return out;
};

const remembered = new WeakMap<Bank, Map<string, Float32Array>>();

/**
 * A player of a bank's keys that works each key out once: tunes have few pitches and many notes.
 * @param rate - sample rate of what comes out
 */
export const tonesOf = (bank: Bank, rate: Hertz): Tones => {
  const known = remembered.get(bank) ?? new Map<string, Float32Array>();
  remembered.set(bank, known);
  return (voice, midi, frames) => {
    const key = `${voice} ${midi} ${rate}`;
    const tone = known.get(key);
    if (tone !== undefined && tone.length >= frames) return tone;
    const zone = zoneFor(bank[voice], midi);
    const plain = tuned(zone, midi, { rate, frames: Math.max(rate, Math.ceil(frames * SPARE)) });
    const made = voice === 'fiddle' ? evenlyBright(plain, midi, rate) : plain;
    known.set(key, made);
    return made;
  };
};
