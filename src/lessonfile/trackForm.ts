import { TEMPO_STEPS } from '../music/index.ts';
import { z } from './form.ts';

/** The longest name of a version, in characters. Ours. */
export const LONGEST_NAME = 60;
/** Beats a minute. */
export const tempo = z.number().min(10).max(400);
const tempoWish = z.union([tempo, z.enum(TEMPO_STEPS)]);

/** A track beside the usual ones. */
export const trackWish = z
  .strictObject({
    version: z
      .string()
      .min(1)
      .max(LONGEST_NAME)
      .describe(
        'What the fiddle plays, like "plain" or "bonesFuller"; "none": backing alone; left out: the fullest.',
      )
      .optional(),
    backing: z.boolean().describe('With backing; left out: yes.').optional(),
    click: z.boolean().describe('A click on every beat; left out: none.').optional(),
    tempo: tempoWish.describe("Beats a minute in the dance's beat, or a step; left out: steady.").optional(),
    climbTo: tempoWish
      .describe('Gradually faster, up to this tempo, with one slow pass to finish.')
      .optional(),
    bars: z
      .string()
      .max(40)
      .describe('Only these, over and over: printed numbers, "5-8", or counted in a part, "B1-B4".')
      .optional(),
    echo: z.int().min(1).max(16).describe('So many bars are played and then left to the learner.').optional(),
    times: z.int().min(1).max(99).describe('Times through.').optional(),
  })
  .describe('A track beside the usual ones.');

/** A recording of the teacher's own. */
export const recording = z
  .strictObject({
    file: z.string().min(1).max(500).describe("Path from the lesson's folder."),
    track: z
      .int()
      .min(1)
      .max(99)
      .describe('The track whose place it takes; left out: one more track.')
      .optional(),
    title: z.string().min(1).max(200).describe('What it is called where it is one more track.').optional(),
  })
  .describe("A recording of the teacher's own.");
