import { type Cents, cents, type Decibels, decibels, type Hertz, hertz } from '../core/index.ts';

/** Voices that are played from samples. */
export type BankVoice = 'fiddle' | 'guitar' | 'bass' | 'piano';
const BANK_VOICES: readonly BankVoice[] = ['fiddle', 'guitar', 'bass', 'piano'];

/** One sample and the keys that it plays; assets/bank/README.md says how it was prepared. */
export interface BankZone {
  /** Lowest and highest MIDI key that it plays, and the key that it sounds at its own speed. */
  readonly low: number;
  readonly high: number;
  readonly root: number;
  /** How far it sounds above `root`. */
  readonly cents: Cents;
  /** BS.1770 loudness as stored, LUFS. */
  readonly loudness: Decibels;
  readonly rate: Hertz;
  /** −1…1. */
  readonly samples: Float32Array;
  /** The loop, in samples from the start; `loopEnd` is the first that isn't played. */
  readonly loopStart: number;
  readonly loopEnd: number;
  /** Decibels a second by which the loop is let down; 0 for a bowed tone. */
  readonly decay: Decibels;
}

/** The samples of every pitched voice, lowest zone first. */
export type Bank = Readonly<Record<BankVoice, readonly BankZone[]>>;

type Fields = Readonly<Record<string, unknown>>;
const isFields = (value: unknown): value is Fields => typeof value === 'object' && value !== null;

const wrong = (what: string): RangeError => new RangeError(`The sample bank's index is wrong: ${what}`);

const numberIn = (zone: Fields, name: string): number => {
  const value = zone[name];
  if (typeof value !== 'number' || !Number.isFinite(value)) throw wrong(`"${name}" of a zone is no number`);
  return value;
};

const listIn = (fields: unknown, name: string): readonly unknown[] => {
  const value = isFields(fields) ? fields[name] : undefined;
  if (!Array.isArray(value)) throw wrong(`"${name}" is no list`);
  return value;
};

const zoneFrom = (zone: unknown, pcm: DataView): BankZone => {
  if (!isFields(zone)) throw wrong('a zone is no object');
  const offset = numberIn(zone, 'offset');
  const length = numberIn(zone, 'length');
  const [loopStart, loopEnd] = [numberIn(zone, 'loopStart'), numberIn(zone, 'loopEnd')];
  if (offset < 0 || (offset + length) * 2 > pcm.byteLength)
    throw wrong(`a zone ends at sample ${offset + length} of ${pcm.byteLength / 2}`);
  if (!(loopStart >= 0 && loopStart < loopEnd && loopEnd <= length))
    throw wrong(`a loop from ${loopStart} to ${loopEnd} in ${length} samples`);
  return {
    low: numberIn(zone, 'low'),
    high: numberIn(zone, 'high'),
    root: numberIn(zone, 'root'),
    cents: cents(numberIn(zone, 'cents')),
    loudness: decibels(numberIn(zone, 'loudness')),
    rate: hertz(numberIn(zone, 'rate')),
    samples: Float32Array.from({ length }, (_, i) => pcm.getInt16((offset + i) * 2, true) / 0x8000),
    loopStart,
    loopEnd,
    decay: decibels(numberIn(zone, 'decay')),
  };
};

/**
 * Reads the sample bank.
 * @param index - the text of bank.json
 * @param bytes - the content of bank.pcm
 * @throws RangeError when the two are damaged or don't belong together
 */
export const readBank = (index: string, bytes: Uint8Array): Bank => {
  let content: unknown;
  try {
    content = JSON.parse(index);
  } catch {
    throw wrong('it is no JSON');
  }
  if (!isFields(content) || content.format !== 'tuneladder-bank' || content.version !== 1)
    throw wrong('it is not a bank of version 1');
  const pcm = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const voices = listIn(content, 'voices');
  const zonesOf = (voice: BankVoice): readonly BankZone[] => {
    const zones = listIn(
      voices.find((v) => isFields(v) && v.voice === voice),
      'zones',
    ).map((zone) => zoneFrom(zone, pcm));
    if (zones.length === 0) throw wrong(`no zone for ${voice}`);
    return zones;
  };
  const [fiddle, guitar, bass, piano] = BANK_VOICES.map(zonesOf) as [
    readonly BankZone[],
    readonly BankZone[],
    readonly BankZone[],
    readonly BankZone[],
  ];
  return { fiddle, guitar, bass, piano };
};

/** The zone that plays a key; outside an instrument's keys the nearest one. */
export const zoneFor = (zones: readonly BankZone[], midi: number): BankZone => {
  const key = Math.round(midi);
  const [first, last] = [zones[0], zones.at(-1)];
  if (first === undefined || last === undefined) throw new RangeError('zoneFor: no zones');
  return zones.find((z) => key >= z.low && key <= z.high) ?? (key < first.low ? first : last);
};
