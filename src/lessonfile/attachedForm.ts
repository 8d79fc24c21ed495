import { STRING_NAMES } from '../fiddle/index.ts';
import { STORED_MARKS, STORED_SIGNS } from '../lesson/index.ts';
import { SITE_KINDS } from '../versions/index.ts';
import { z } from './form.ts';

const length = z.string().regex(/^[1-9]\d{0,3}(\/[1-9]\d{0,4})?$/);
/** What a bar sounds like. */
export const fingerprint = z.string().max(2000);
/** A part's label. */
export const label = z.string().min(1).max(60);
const index = z.int().min(0);
const tuplet = z.strictObject({
  actual: z.int().min(1),
  normal: z.int().min(1),
  index,
  count: z.int().min(1),
});
const finger = z.union([z.literal(0), z.literal(1), z.literal(2), z.literal(3), z.literal(4)]);

const pitchName = z.string().regex(/^[A-G](##|bb|#|b)?[0-9]$/);

/** A note or rest of a kept bar or of another way to play one. */
const keptEvent = z.union([
  z.strictObject({
    pitches: z.array(pitchName).min(1).max(4).describe('Like "F#5", the melody first.'),
    length: length.describe('In whole notes, like "3/8".'),
    tied: z.boolean().optional(),
    tuplet: tuplet.optional(),
    bow: z.enum(['down', 'up']).optional(),
    fingers: z.array(finger).optional(),
    slurs: z.strictObject({ opens: index, closes: index }).optional(),
    graces: z.array(pitchName).min(1).max(8).describe('Grace notes before it.').optional(),
    signs: z.array(z.enum(STORED_SIGNS)).optional(),
    marks: z.array(z.enum(STORED_MARKS)).optional(),
    beamed: z.boolean().describe('Beamed to the next one.').optional(),
  }),
  z.strictObject({ rest: length.describe('In whole notes, like "1/4".'), tuplet: tuplet.optional() }),
]);

/** By what a bar is found again. */
const anchor = z
  .strictObject({
    part: label.describe("The part's label."),
    bar: index.describe("Place among the part's written bars, pick-up included, from 0."),
    plain: fingerprint.describe('What the bar sounds like in "all the notes".'),
  })
  .describe('The bar that this belongs to; it is found again when the tune has changed.');

/** A bar of the bones that the teacher keeps. */
export const keptBar = z.strictObject({
  version: z.string().max(40).describe('The version of the lesson: "bones".'),
  anchor,
  keptFor: fingerprint
    .describe('What the bar sounded like when this was kept, where it has changed since.')
    .optional(),
  everywhere: z.boolean().describe('Holds for all bars that sound the same in "all the notes".').optional(),
  events: z.array(keptEvent).min(1).max(200).describe('Its notes and rests in order.'),
});

/** Another way to play a bar. */
export const barWay = z.strictObject({
  version: z.string().max(40).describe('The version of the lesson: "full".'),
  anchor,
  keptFor: fingerprint
    .describe('What the bar sounded like when this was written, where it has changed since.')
    .optional(),
  played: z
    .enum(['secondTimes', 'everyTime', 'never'])
    .describe('Every second time that the bar comes, every time in its place, or never.'),
  printed: z.boolean().describe("A small bar at the foot of the version's sheet."),
  events: z.array(keptEvent).min(1).max(200).describe('Its notes and rests in order.'),
});

const onset = z.string().regex(/^(0|[1-9]\d{0,3}(\/[1-9]\d{0,4})?)$/);

/** An accepted ornament, as `versions --suggest` prints it. */
export const acceptedOrnament = z.strictObject({
  anchor,
  onset: onset.describe('Where in the bar its first note begins, in whole notes, like "3/8".'),
  kind: z.enum(SITE_KINDS),
});

/** A finger that stays down, wanted on a sheet or not. */
export const stayDownChoice = z.strictObject({
  version: z.string().max(40).describe('The version of the lesson: "bones".'),
  anchor,
  onset: onset.describe('Where in the bar the finger goes down, in whole notes, like "3/8".'),
  finger: z.union([z.literal(1), z.literal(2), z.literal(3)]),
  strings: z.array(z.enum(STRING_NAMES)).min(1).max(2).describe('The strings under it, lower first.'),
  shown: z.boolean().describe('Shown, or neither here nor where the same figure comes again in this part.'),
});
