import { expect, test } from 'vitest';
import { formatPitch, pitch } from '../music/index.ts';
import { melodyFirst } from './melodyFirst.ts';

// Common practice of writing drones and double stops for the fiddle.
test.each([
  ['D4 D5', 'D5 D4', 'the open D string below the tune'],
  ['G3 G4', 'G4 G3', 'the open G string below the tune'],
  ['F#4 A4', 'F#4 A4', 'the open A string above a fingered note'],
  ['G4 B4', 'B4 G4', 'a double stop'],
  ['A3 A4', 'A4 A3', 'an octave that no open string above can make'],
  ['D5 D4', 'D5 D4', 'the melody written first'],
  ['A4 A4', 'A4 A4', 'a unison'],
  ['A4 E5', 'E5 A4', 'two open strings'],
  ['G3 D4 B4', 'B4 G3 D4', 'three notes'],
])('%s is %s: %s', (written, melody) => {
  const [first, ...others] = written.split(' ').map(pitch);
  expect(
    melodyFirst([first ?? pitch('A4'), ...others])
      .map(formatPitch)
      .join(' '),
  ).toBe(melody);
});
