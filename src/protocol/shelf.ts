import { z } from 'zod';

/** How far a lesson's pack agrees with the lesson. */
const PACK_STATES = ['none', 'current', 'outOfDate', 'building'] as const;

/** One lesson as "My lessons" lists it. */
const lessonCard = z.object({
  /** Names the lesson in addresses: its folder's name. */
  id: z.string(),
  title: z.string(),
  otherTitles: z.array(z.string()),
  /** "reel"; empty where nothing could be read. */
  dance: z.string(),
  /** "G major". */
  key: z.string(),
  /** Names of the versions, simplest first. */
  versions: z.array(z.string()),
  /** How hard the fullest version is, in words; empty where nothing could be read. */
  difficulty: z.string(),
  pack: z.enum(PACK_STATES),
  /** When it was last changed, ISO 8601 in UTC. */
  changed: z.string(),
  /** Why it cannot be worked on as it is; null: it is whole. */
  broken: z.string().nullable(),
  /** Why the search found it where that is not its title, as "These notes, in A"; empty otherwise. */
  found: z.string(),
});
/** One lesson as "My lessons" lists it. */
export type LessonCard = z.infer<typeof lessonCard>;

/** What "My lessons" shows: answer to `GET /api/shelf?words=…`. */
export const shelfAnswer = z.object({
  /** The folder, as the user would name it. */
  folder: z.string(),
  /** How many lessons there are, and how many the words find. */
  all: z.int(),
  matching: z.int(),
  /** The first of those found, best first; without words, the last changed first. */
  lessons: z.array(lessonCard),
});
/** What "My lessons" shows. */
export type ShelfAnswer = z.infer<typeof shelfAnswer>;

/** A place in a text with what is wrong there; line and column count from 1. */
const problem = z.object({ line: z.int(), column: z.int(), message: z.string() });

/** What an uploaded or pasted file of tunes holds: answer to `POST /api/tunes` (body: the file's bytes). */
export const tunesAnswer = z.object({
  /** The whole file as ABC. */
  abc: z.string(),
  /** Where in it the first tune begins: what is before is every tune's header. */
  head: z.int(),
  tunes: z.array(
    z.object({
      /** Where in the text it stands, from and to. */
      from: z.int(),
      to: z.int(),
      title: z.string(),
      dance: z.string(),
      key: z.string(),
      bars: z.int(),
      /** The tune has no note, or an error that keeps it from being a lesson. */
      unusable: z.string().nullable(),
    }),
  ),
  problems: z.array(problem),
});
/** What a file of tunes holds. */
export type TunesAnswer = z.infer<typeof tunesAnswer>;

/** Makes lessons of some tunes of a file: `POST /api/lessons`. */
export const newLessons = z.object({
  abc: z.string().max(5_000_000),
  /** Places among the file's tunes, from 0. */
  tunes: z.array(z.int().min(0)).min(1).max(100),
  /** The teacher's name; empty: none is given. */
  teacher: z.string().max(200),
});
/** Which lessons to make. */
export type NewLessons = z.infer<typeof newLessons>;

/** The lessons that were made, in order. */
export const madeLessons = z.object({ ids: z.array(z.string()) });

/** A new title: `PUT /api/lessons/ID/title`. The first `T:` is changed, the folder keeps its name. */
export const newTitle = z.object({ title: z.string().trim().min(1).max(200) });

/** What brings a deleted lesson back: answer to `DELETE /api/lessons/ID`, sent to `POST /api/deleted/MARK/back`. */
export const deletedLesson = z.object({ mark: z.string() });

/** Lessons and sets that can still be brought back: answer to `GET /api/deleted`. `DELETE /api/deleted/MARK` removes one for good. */
export const deletedAnswer = z.object({
  lessons: z.array(
    z.object({
      kind: z.enum(['lesson', 'set']),
      mark: z.string(),
      title: z.string(),
      /** When it was deleted, ISO 8601 in UTC. */
      when: z.string(),
    }),
  ),
});
/** Lessons that can still be brought back. */
export type DeletedAnswer = z.infer<typeof deletedAnswer>;
