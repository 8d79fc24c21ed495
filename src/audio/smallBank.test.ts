import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Bank, type BankVoice, readBank } from './bank.ts';
import { predictorOf, residualCodes, samplesFromCodes } from './predictive.ts';
import { readSmallBank, smallBankOf } from './smallBank.ts';

const ASSETS = new URL('../../assets/bank/', import.meta.url);

let bank: Bank;
beforeAll(() => {
  bank = readBank(
    readFileSync(new URL('bank.json', ASSETS), 'utf8'),
    readFileSync(new URL('bank.pcm', ASSETS)),
  );
});

const keys = (own: Partial<Record<BankVoice, readonly number[]>>) => ({
  fiddle: new Set(own.fiddle),
  guitar: new Set(own.guitar),
  bass: new Set(own.bass),
  piano: new Set(own.piano),
});

/** How far the error lies under the sound, decibels. */
const under = (sound: Float32Array, other: Float32Array): number => {
  let [power, error] = [0, 0];
  sound.forEach((x, i) => {
    power += x * x;
    error += (x - (other[i] as number)) ** 2;
  });
  return 10 * Math.log10(power / error);
};

describe('a small bank', () => {
  test('holds the zones that its keys need, as they were but for an error far under them', () => {
    const small = readSmallBank(
      smallBankOf(bank, keys({ fiddle: [62, 69, 81], guitar: [50, 60], bass: [40] })),
    );
    expect(small.fiddle.map((z) => z.low)).toEqual([61, 67, 79]);
    expect(small.guitar.map((z) => z.low)).toEqual([48, 58]);
    for (const [voice, least] of [['fiddle', 42], ['guitar', 33], ['bass', 50]] as const) // biome-ignore format: a table
      for (const zone of small[voice]) {
        const whole = bank[voice].find((z) => z.low === zone.low);
        const { samples: _a, ...about } = zone;
        const { samples = new Float32Array(), ...wanted } = whole ?? zone;
        expect(about).toEqual(wanted);
        expect(under(samples, zone.samples), `${voice} ${zone.low}`).toBeGreaterThan(least);
      }
  });
  test('is a fraction of the size', () => {
    const { codes } = smallBankOf(bank, keys({ fiddle: [69] }));
    expect(codes.length).toBeLessThan(0.32 * 2 * (bank.fiddle[4]?.samples.length ?? 0));
  });
  test('keys beyond an instrument take the zone at its end; a voice that is not asked for is silent', () => {
    const small = readSmallBank(smallBankOf(bank, keys({ bass: [10, 100] })));
    expect(small.bass.map((z) => z.low)).toEqual([26, 51]);
    expect(small.piano).toHaveLength(1);
    expect(small.piano[0]?.samples.every((x) => x === 0)).toBe(true);
  });
});

test.each([
  { what: 'silence', samples: new Float32Array(500) },
  { what: 'one click', samples: Float32Array.from({ length: 500 }, (_, i) => (i === 250 ? 0.9 : 0)) },
  {
    what: 'a sine at full level',
    samples: Float32Array.from({ length: 5000 }, (_, i) => 0.99 * Math.sin(i / 7)),
  },
])('what is foretold stays in bounds: $what', ({ samples }) => {
  const weights = predictorOf(samples);
  const { codes, steps } = residualCodes(samples, weights, 4);
  const back = samplesFromCodes(codes, steps, weights);
  samples.forEach((x, i) => {
    expect(Math.abs((back[i] as number) - x)).toBeLessThan(0.2);
  });
});
