import { z } from 'zod';

/** Longest text of a tune or of lesson.json that is taken, in characters. Ours. */
const LONGEST_TEXT = 2_000_000;

/** The two texts that a lesson is. */
export const lessonTexts = z.object({
  /** tune.abc. */
  abc: z.string().max(LONGEST_TEXT),
  /** lesson.json as text. */
  settings: z.string().max(LONGEST_TEXT),
});
/** The two texts that a lesson is. */
export type LessonTexts = z.infer<typeof lessonTexts>;

/** A lesson as it lies on the shelf: answer to `GET /api/lessons/ID`. */
export const storedLesson = lessonTexts.extend({
  id: z.string(),
  /** Names this state of both texts; another state has another name. */
  revision: z.string(),
  /** The standing words of the shelf's words.json as text; empty where there is none. */
  words: z.string(),
  /** What cannot be read in it, in sentences: its words are left out. */
  wordsProblems: z.array(z.string()),
  /** Today's date where the server stands, "2026-11-25": the sheets' date where the lesson gives none. */
  today: z.string(),
  /** What cannot be read in the files, in sentences; the texts are given as far as they can be. */
  problems: z.array(z.string()),
});
/** A lesson as it lies on the shelf. */
export type StoredLesson = z.infer<typeof storedLesson>;

/** A lesson to be saved: `PUT /api/lessons/ID`. */
export const saveRequest = lessonTexts.extend({
  /** The revision that the texts were made from. */
  base: z.string(),
  /** What it replaces becomes an earlier state, however young that is. */
  keepsBefore: z.boolean().optional(),
});
/** A lesson to be saved. */
export type SaveRequest = z.infer<typeof saveRequest>;

/** How saving ended. `saved` is told only when both texts are safely on the disk. */
export const saveAnswer = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('saved'), revision: z.string() }),
  /** Somebody else changed it since `base`: nothing was written. `base` is the common ancestor where it is still known. */
  z.object({
    kind: z.literal('changed'),
    now: storedLesson,
    base: lessonTexts.nullable(),
  }),
]);
/** How saving ended. */
export type SaveAnswer = z.infer<typeof saveAnswer>;

/** Earlier states of a lesson, newest first: answer to `GET /api/lessons/ID/earlier`. */
export const checkpoints = z.object({
  checkpoints: z.array(
    z.object({
      /** Names it: `GET /api/lessons/ID/earlier/MARK` answers with its texts. */
      mark: z.string(),
      /** ISO 8601 in UTC. */
      when: z.string(),
      /** What differs from the state before it, in words: "3 lines of the tune, density". */
      what: z.string(),
    }),
  ),
});
/** Earlier states of a lesson. */
export type Checkpoints = z.infer<typeof checkpoints>;
