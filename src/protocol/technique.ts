import { z } from 'zod';

/** The teacher's words for ornaments; empty: the usual ones. */
const ownNames = z.object({
  cut: z.string().trim().max(40),
  treble: z.string().trim().max(40),
  run: z.string().trim().max(40),
  roll: z.string().trim().max(40),
});
/** The teacher's words for ornaments. */
export type OwnNames = z.infer<typeof ownNames>;

/** What the teacher says of a technique in every lesson that has it; empty: nothing. */
const standingNote = z.object({
  words: z.string().max(5000),
  /** A drill of one or two lines. */
  drill: z.string().max(620),
  /** Where it was taught before, one a line: a lesson's title, or a web address and what is shown for it. */
  see: z.string().max(5000),
});
/** What the teacher says of a technique in every lesson that has it. */
export type StandingWish = z.infer<typeof standingNote>;

/** All techniques over all lessons: answer to `GET /api/techniques`. */
export const techniquesAnswer = z.object({
  techniques: z.array(
    z.object({
      technique: z.string(),
      /** "long rolls". */
      name: z.string(),
      lessons: z.array(
        z.object({
          id: z.string(),
          title: z.string(),
          /** "bars 1 and 5"; empty: it goes through the whole tune. */
          where: z.string(),
          /** Printed number of the first of these bars; null: it has none. */
          bar: z.int().nullable(),
        }),
      ),
      note: standingNote,
    }),
  ),
  names: ownNames,
  /** Lessons whose pack is older than they are, with what has changed since it was made. */
  handedOut: z.array(
    z.object({
      id: z.string(),
      title: z.string(),
      /** When the pack was made, ISO 8601 in UTC. */
      made: z.string(),
      changes: z.array(z.string()),
    }),
  ),
  /** Lessons that are still to be looked through. */
  left: z.int(),
  /** Why the standing words cannot be changed here, in sentences: their file cannot be read. */
  problems: z.array(z.string()),
  /** Names this state of words.json. */
  revision: z.string(),
});
/** All techniques over all lessons. */
export type TechniquesAnswer = z.infer<typeof techniquesAnswer>;

/** Changes standing words: `PUT /api/words`. What is not named stays as it is. */
export const wordsRequest = z.object({
  /** The revision that they were changed from. */
  base: z.string(),
  names: ownNames.optional(),
  note: standingNote
    .partial()
    .extend({ technique: z.string().max(40) })
    .optional(),
});
/** Changes standing words. */
export type WordsRequest = z.infer<typeof wordsRequest>;
/** Standing words are saved. */
export const wordsSaved = z.object({ revision: z.string() });
