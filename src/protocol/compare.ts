import { z } from 'zod';

/** One bar of one of two lessons; null: this lesson has no such bar. */
const side = z
  .object({
    /** "bar 3", "the pick-up of part A". */
    label: z.string(),
    /** The bar of "all the notes", as SVG. */
    picture: z.string(),
  })
  .nullable();

/** Two settings of a tune, bar under bar: answer to `GET /api/compare/ID/ID`. */
export const compareAnswer = z.object({
  titles: z.tuple([z.string(), z.string()]),
  /** How many bars are alike, and which are not, in sentences. */
  summary: z.array(z.string()),
  bars: z.array(z.object({ first: side, second: side, differences: z.array(z.string()) })),
});
/** Two settings of a tune, bar under bar. */
export type CompareAnswer = z.infer<typeof compareAnswer>;
