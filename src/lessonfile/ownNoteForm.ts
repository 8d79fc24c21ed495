import { ORNAMENT_KINDS } from '../lesson/index.ts';
import { z } from './form.ts';

/** The longest text of a teacher's own note, in characters. Ours. */
const LONGEST_NOTE = 50_000;

const ownWords = {
  words: z.string().min(1).max(LONGEST_NOTE).describe("The teacher's own words."),
  replaces: z
    .string()
    .max(100)
    .describe('Subject of the remark whose place they take; left out: they join the others.')
    .optional(),
};

/** Own words about the tune, a part, an ornament or a bar. */
export const ownNote = z.discriminatedUnion('about', [
  z.strictObject({ about: z.literal('tune'), ...ownWords }),
  z.strictObject({ about: z.literal('part'), part: z.string().min(1).max(60), ...ownWords }),
  z.strictObject({ about: z.literal('ornament'), ornament: z.enum(ORNAMENT_KINDS), ...ownWords }),
  z.strictObject({
    about: z.literal('bar'),
    anchor: z.strictObject({
      part: z.string().min(1).max(60),
      bar: z.int().min(0).describe("Place among the part's written bars, pick-up included, from 0."),
      plain: z.string().max(2000).describe('What the bar sounds like in "all the notes".').optional(),
    }),
    ...ownWords,
  }),
]);
