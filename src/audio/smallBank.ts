import { cents, decibels, hertz } from '../core/index.ts';
import type { Bank, BankVoice, BankZone } from './bank.ts';
import { predictorOf, residualCodes, samplesFromCodes } from './predictive.ts';

// The bank for a page that has to be small: only the zones that are needed, each sample stored as how far it lies from
// what the samples before it foretell. A steady tone is foretold very well, so a few bits a sample are enough.

/** One zone of a small bank. Its codes follow those of the zone before, from a whole byte on, low bits first. */
export interface SmallZone {
  readonly low: number;
  readonly high: number;
  readonly root: number;
  readonly cents: number;
  readonly loudness: number;
  readonly rate: number;
  readonly length: number;
  readonly loopStart: number;
  readonly loopEnd: number;
  readonly decay: number;
  /** Weights of the samples before, nearest first. */
  readonly weights: readonly number[];
  /** Bits for each code. */
  readonly bits: number;
  /** Step of the codes in each run of samples, see `residualCodes`. */
  readonly steps: readonly number[];
}

/** What the page keeps beside the codes: plain JSON. */
export type SmallBankIndex = Readonly<Record<BankVoice, readonly SmallZone[]>>;

/** A small bank: what is plain, and the bytes. */
export interface SmallBank {
  readonly index: SmallBankIndex;
  readonly codes: Uint8Array;
}

const VOICES: readonly BankVoice[] = ['fiddle', 'guitar', 'bass', 'piano'];

/** The keys that a page plays, by voice. */
export type NeededKeys = Readonly<Record<BankVoice, ReadonlySet<number>>>;

const isNeeded = (zones: readonly BankZone[], i: number, keys: ReadonlySet<number>): boolean => {
  const zone = zones[i] as BankZone;
  return [...keys].some(
    (key) =>
      (key >= zone.low && key <= zone.high) ||
      (i === 0 && key < zone.low) ||
      (i === zones.length - 1 && key > zone.high),
  );
};

const bytesFor = (length: number, bits: number): number => Math.ceil((length * bits) / 8);

const packed = (codes: Int8Array, bits: number): Uint8Array => {
  const out = new Uint8Array(bytesFor(codes.length, bits));
  const offset = 2 ** (bits - 1);
  codes.forEach((code, i) => {
    const [byte, shift] = [(i * bits) >> 3, (i * bits) & 7];
    const value = (code + offset) << shift;
    out[byte] = (out[byte] as number) | (value & 0xff);
    if (value > 0xff) out[byte + 1] = (out[byte + 1] as number) | (value >> 8);
  });
  return out;
};

const unpacked = (bytes: Uint8Array, bits: number, length: number): Int8Array => {
  const offset = 2 ** (bits - 1);
  const mask = 2 ** bits - 1;
  return Int8Array.from({ length }, (_, i) => {
    const byte = (i * bits) >> 3;
    const two = (bytes[byte] as number) | ((bytes[byte + 1] ?? 0) << 8);
    return ((two >> ((i * bits) & 7)) & mask) - offset;
  });
};

const joined = (pieces: readonly Uint8Array[]): Uint8Array => {
  const out = new Uint8Array(pieces.reduce((sum, p) => sum + p.length, 0));
  let at = 0;
  for (const piece of pieces) {
    out.set(piece, at);
    at += piece.length;
  }
  return out;
};

/** Bits for each sample: the tune stands in front. Ours: leaves the error 35 dB and more under the tone, see the test. */
const BITS: Readonly<Record<BankVoice, number>> = { fiddle: 5, guitar: 4, bass: 4, piano: 4 };

/**
 * A bank made small: the zones that these keys need, in few bits.
 *
 * A voice without a needed key has no zone left; `readSmallBank` puts silence in its place.
 */
export const smallBankOf = (bank: Bank, keys: NeededKeys): SmallBank => {
  const pieces: Uint8Array[] = [];
  const zonesOf = (voice: BankVoice): readonly SmallZone[] =>
    bank[voice]
      .filter((_, i) => isNeeded(bank[voice], i, keys[voice]))
      .map(({ samples, ...zone }): SmallZone => {
        const bits = BITS[voice];
        const weights = predictorOf(samples);
        const { codes, steps } = residualCodes(samples, weights, bits);
        pieces.push(packed(codes, bits));
        return { ...zone, length: samples.length, bits, weights, steps };
      });
  const [fiddle = [], guitar = [], bass = [], piano = []] = VOICES.map(zonesOf);
  return { index: { fiddle, guitar, bass, piano }, codes: joined(pieces) };
};

/** Stands in for a voice that is never asked for. */
const SILENCE: BankZone = {
  low: 0,
  high: 127,
  root: 60,
  cents: cents(0),
  loudness: decibels(-20),
  rate: hertz(44_100),
  samples: new Float32Array(1),
  loopStart: 0,
  loopEnd: 1,
  decay: decibels(0),
};

/** The bank that a small bank stands for. */
export const readSmallBank = ({ index, codes }: SmallBank): Bank => {
  let from = 0;
  const zonesOf = (voice: BankVoice): readonly BankZone[] => {
    const zones = index[voice].map(({ weights, steps, bits, length, ...zone }): BankZone => {
      const to = from + bytesFor(length, bits);
      const samples = samplesFromCodes(unpacked(codes.subarray(from, to), bits, length), steps, weights);
      from = to;
      return {
        ...zone,
        cents: cents(zone.cents),
        loudness: decibels(zone.loudness),
        rate: hertz(zone.rate),
        decay: decibels(zone.decay),
        samples,
      };
    });
    return zones.length > 0 ? zones : [SILENCE];
  };
  const [fiddle = [], guitar = [], bass = [], piano = []] = VOICES.map(zonesOf);
  return { fiddle, guitar, bass, piano };
};

/** Digits of the index's length, which begins a bank as bytes: four bytes, the highest first. */
const LENGTH_BYTES = 4;

/** A small bank as bytes, to be sent: the length of the index, the index as JSON, the codes. */
export const smallBankBytes = ({ index, codes }: SmallBank): Uint8Array => {
  const text = JSON.stringify(index);
  const bytes = new Uint8Array(LENGTH_BYTES + text.length + codes.length);
  new DataView(bytes.buffer).setUint32(0, text.length);
  // Names and numbers alone: every character is one byte.
  for (let i = 0; i < text.length; i += 1) bytes[LENGTH_BYTES + i] = text.charCodeAt(i);
  bytes.set(codes, LENGTH_BYTES + text.length);
  return bytes;
};

/** Reads what `smallBankBytes` gives. @throws SyntaxError when it is something else */
export const smallBankIn = (bytes: Uint8Array): SmallBank => {
  const length = new DataView(bytes.buffer, bytes.byteOffset).getUint32(0);
  let text = '';
  for (const code of bytes.subarray(LENGTH_BYTES, LENGTH_BYTES + length)) text += String.fromCharCode(code);
  return { index: JSON.parse(text) as SmallBankIndex, codes: bytes.slice(LENGTH_BYTES + length) };
};
