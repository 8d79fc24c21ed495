import fc from 'fast-check';
import { expect, test } from 'vitest';
import { hertz } from '../core/index.ts';
import { readWav, type WavDepth, writeWav } from './wav.ts';

const RATE = hertz(44_100);
const finest: Readonly<Record<WavDepth, number>> = { int16: 1 / 0x8000, int24: 1 / 0x800000, float32: 1e-7 };

test.each(['int16', 'int24', 'float32'] as const)('%s: what is written is read', (depth) => {
  fc.assert(
    fc.property(
      fc.array(fc.float({ min: -1, max: 1, noNaN: true }), { minLength: 1, maxLength: 40 }),
      (values) => {
        const left = Float32Array.from(values);
        const right = left.map((x) => -x);
        const read = readWav(writeWav({ rate: RATE, left, right }, { depth }));
        if (read.kind !== 'wav') throw new Error(read.message);
        expect(read.rate).toBe(44_100);
        for (const [c, channel] of [left, right].entries())
          for (const [i, x] of channel.entries())
            expect(Math.abs((read.channels[c]?.[i] ?? 9) - x)).toBeLessThanOrEqual(finest[depth]);
      },
    ),
    { seed: 11, numRuns: 25 },
  );
});

// Source: RIFF WAVE (IBM and Microsoft 1991): "RIFF" size "WAVE" "fmt " 16, tag 1, channels, rate, bytes a second,
// bytes a frame, bits; "data" size.
test('the header, byte for byte', () => {
  const bytes = writeWav({ rate: RATE, samples: Float32Array.from([0, 0.5, -1]) });
  const hex = [...bytes].map((b) => b.toString(16).padStart(2, '0')).join('');
  expect(hex).toBe(
    '524946462a000000' +
      '57415645' +
      '666d742010000000' +
      '0100010044ac0000' +
      '8858010002001000' +
      '6461746106000000' +
      '000000400080',
  );
});

test('words are kept, accents too', () => {
  const info = {
    title: 'The Ferryman’s Wet Coat',
    artist: 'Aoife',
    track: 3,
    date: '2024',
    comment: 'A → B',
  };
  const read = readWav(writeWav({ rate: RATE, samples: new Float32Array(5) }, { info }));
  expect(read.kind === 'wav' && read.info).toEqual(info);
});

test.each([
  { what: 'nothing', bytes: [] },
  { what: 'text', bytes: [...'hello, this is text'].map((c) => c.charCodeAt(0)) },
  {
    what: 'a header without samples',
    bytes: [...writeWav({ rate: RATE, samples: new Float32Array(2) })].slice(0, 30),
  },
])('$what is a problem, not a crash', ({ bytes }) => {
  expect(readWav(Uint8Array.from(bytes)).kind).toBe('problem');
});

test('a file cut short gives what is there', () => {
  const whole = writeWav({ rate: RATE, samples: new Float32Array(100).fill(0.25) });
  const read = readWav(whole.subarray(0, 44 + 50));
  expect(read.kind === 'wav' && read.channels[0]?.length).toBe(25);
});
