import { expect, test } from 'vitest';
import {
  cents,
  decibels,
  hertz,
  hertzOfMidi,
  midiNumber,
  placeFinder,
  randomFrom,
  seconds,
} from './index.ts';

test.each([
  { offset: 0, line: 1, column: 1 },
  { offset: 3, line: 2, column: 1 },
  { offset: 6, line: 3, column: 1 },
  { offset: 8, line: 4, column: 2 },
  { offset: 99, line: 4, column: 3 },
])(
  'offset $offset lies in line $line, column $column, whatever ends the lines',
  ({ offset, line, column }) => {
    expect(placeFinder('ab\ncd\re\r\n'.replace('e\r\n', '\rxy'))(offset)).toEqual({ line, column });
  },
);

test('a line that ends with CR LF is one line', () => {
  expect(placeFinder('a\r\nb')(3)).toEqual({ line: 2, column: 1 });
});

test('the same seed gives the same numbers, another seed others, all from 0 to 1', () => {
  const draw = (seed: number) =>
    Array.from(
      { length: 500 },
      (
        (r) => () =>
          r.next()
      )(randomFrom(seed)),
    );
  expect(draw(7)).toEqual(draw(7));
  expect(draw(7)).not.toEqual(draw(8));
  expect(Math.min(...draw(7))).toBeGreaterThanOrEqual(0);
  expect(Math.max(...draw(7))).toBeLessThan(1);
  const mean = draw(7).reduce((a, b) => a + b) / 500;
  expect(Math.abs(mean - 0.5)).toBeLessThan(0.05);
});

test('normally distributed numbers have mean 0 and spread 1', () => {
  const r = randomFrom(3);
  const xs = Array.from({ length: 4000 }, () => r.normal());
  const mean = xs.reduce((a, b) => a + b) / xs.length;
  const spread = Math.sqrt(xs.reduce((a, x) => a + (x - mean) ** 2, 0) / xs.length);
  expect(Math.abs(mean)).toBeLessThan(0.06);
  expect(Math.abs(spread - 1)).toBeLessThan(0.06);
});

// Source: MIDI Tuning Standard: note 69 = 440 Hz; open strings 195.998, 293.665, 440, 659.255 Hz.
test.each([
  [55, 195.998],
  [62, 293.665],
  [69, 440],
  [76, 659.255],
])('MIDI note %i sounds at %f Hz', (midi, frequency) => {
  expect(hertzOfMidi(midiNumber(midi))).toBeCloseTo(frequency, 3);
});

test('units refuse what they cannot hold', () => {
  expect(() => seconds(Number.NaN)).toThrow(RangeError);
  expect(() => hertz(0)).toThrow(RangeError);
  expect(() => cents(Number.POSITIVE_INFINITY)).toThrow(RangeError);
  expect(() => midiNumber(128)).toThrow(RangeError);
  expect(() => decibels(Number.NaN)).toThrow(RangeError);
});
