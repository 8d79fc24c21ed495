import { MARK_LEVELS, SLUR_STYLES, TUNING_NAMES } from '../fiddle/index.ts';
import { STAY_DOWN_SHEETS } from '../lesson/index.ts';
import { z } from './form.ts';

/** What lesson.json says of the hands: slurs, marks on paper, position and tuning. */
export const HAND_FIELDS = {
  slurs: z
    .enum(SLUR_STYLES)
    .describe('Slurs of "all the notes"; "written" keeps the tune\'s own.')
    .optional(),
  marks: z
    .enum(MARK_LEVELS)
    .describe('Fingers and bows on the sheets: those that are written, some more, or all.')
    .optional(),
  stayDowns: z
    .enum(STAY_DOWN_SHEETS)
    .describe("Which sheets say where a finger stays down: the bones' alone, all, or none.")
    .optional(),
  position: z
    .union([z.literal(1), z.literal(3)])
    .describe('The highest position of the left hand.')
    .optional(),
  tuning: z.enum(TUNING_NAMES).describe('What the strings are tuned to, from the lowest.').optional(),
};
