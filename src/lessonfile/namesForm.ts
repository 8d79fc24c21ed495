import { z } from './form.ts';

const name = z.string().min(1).max(40).optional();

/** A teacher's words for ornaments; what is left out is not said here. */
export const ornamentNames = z
  .strictObject({ cut: name, treble: name, run: name, roll: name })
  .describe('Your own words for ornaments: grace note, birl, shiver, run.');
